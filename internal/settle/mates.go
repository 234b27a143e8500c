package settle

import (
	_ "embed"
	"encoding/json"
	"strings"
	"sync"
)

// Caution says that one of two is known to harm the other: eats, stings, overgrows, robs or
// starves it. It is a caution and no ban: many of them get on for months.
type Caution struct {
	Who  string `json:"who"` // ids of specimens
	Whom string `json:"whom"`
	How  string `json:"how"`
	From string `json:"from"` // the source, in words
}

// pair is a line of mates.json: a handling group, a genus, or * for everybody. What a genus
// says of everybody stands before what its group says.
type pair struct{ Who, Whom, How, From string }

//go:embed mates.json
var matesJSON []byte

type matesFile struct {
	Sources map[string]string
	Pairs   []pair
}

var mates = sync.OnceValue(func() *matesFile {
	f := new(matesFile)
	if err := json.Unmarshal(matesJSON, f); err != nil {
		panic("mates.json: " + err.Error())
	}
	return f
})

// is tells whether a word of the list names a lot.
func (l *lot) is(word string) bool {
	genus, _, _ := strings.Cut(l.taxon, " ")
	return word == "*" || word == l.groupID() || strings.EqualFold(word, genus)
}

// harms lists what one lot is known to do to another, the particular before the general.
func harms(a, b *lot) []Caution {
	var list []Caution
	for _, p := range mates().Pairs {
		if !a.is(p.Who) || !b.is(p.Whom) {
			continue
		}
		if p.How == "harmless" {
			return nil
		}
		if told := len(list) > 0 && list[len(list)-1].How == p.How; !told {
			list = append(list, Caution{a.ID, b.ID, p.How, mates().Sources[p.From]})
		}
	}
	return list
}

// quarrels lists the cautions of one lot and those it would live with, both ways.
func quarrels(l *lot, others []*lot) []Caution {
	list := []Caution{}
	for _, o := range others {
		if o != l {
			list = append(list, harms(l, o)...)
			list = append(list, harms(o, l)...)
		}
	}
	return list
}
