package journal

// Stamp is a hybrid logical clock reading with its device, as text that sorts in its
// order: 12 hexadecimal digits of Unix milliseconds, a dash, 4 of a counter, a dash, and
// the device's UUID; all lower case.
//
//	0199f0c3a2b4-0003-0199f0c3-a2b4-7c1e-9d3f-2b6f1c5d8e90
type Stamp string
