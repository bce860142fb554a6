/* An element with what it is given, and with others or texts inside: never markup out of a text. */
"use strict";
self.blankbookMake = (name, settings = {}, ...inside) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(settings)) {
    if (key in made) made[key] = value;
    else made.setAttribute(key, value);
  }
  made.append(...inside);
  return made;
};
