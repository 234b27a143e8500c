// Type as large as there is room for: what does not fit is set smaller, step by step.

/** The steps, by class; what they mean the styles say. */
const STEPS = Array.from({ length: 10 }, (_, i) => `fit-${i}`);

/**
 * Sets each box in the largest type in which its words fit.
 * @param {HTMLElement} sheets at their true size
 * @param {string} boxes which: a selector
 * @param {(box: HTMLElement) => Element | null} [within] the part that cuts off what is too much; the box itself
 * @returns {number} how many fit at no step
 */
export function fitType(sheets, boxes, within = (box) => box) {
  let over = /** @type {HTMLElement[]} */ ([...sheets.querySelectorAll(boxes)]);
  // All at once for each step, so that the page is laid out a few times and not for each box.
  for (const step of STEPS) {
    for (const box of over) {
      box.classList.remove(...STEPS);
      box.classList.add(step);
    }
    over = over.filter((box) => {
      const part = within(box);
      return part && (part.scrollHeight > part.clientHeight || part.scrollWidth > part.clientWidth);
    });
  }
  return over.length;
}
