// Without this script before and after stand side by side. With it they lie on each other, and the range input, which works with
// mouse, touch and keyboard and speaks to screen readers by itself, moves the divider between them.
for (const slider of document.querySelectorAll('.slider')) {
  const range = slider.querySelector('input[type=range]');
  const move = () => {
    slider.style.setProperty('--at', range.value + '%');
    range.setAttribute('aria-valuetext', range.value + ' %');
  };
  range.addEventListener('input', move);
  slider.classList.add('live');
  move();
}
