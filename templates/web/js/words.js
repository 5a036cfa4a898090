// Fills the messages that came with the data, as the program fills its own: words as they are, numbers as the language
// writes them.
"use strict";
(function () {
  const words = ATLAS.words;
  // Made when first asked for: on a phone it costs a tenth of a second.
  let plural = null;

  function category(number) {
    plural = plural || new Intl.PluralRules(words.language);
    return plural.select(number);
  }

  function fact(facts, name) {
    if (!facts || facts[name] === undefined) throw new Error("no fact " + name);
    return facts[name];
  }

  function form(part, facts) {
    const value = fact(facts, part.by), forms = part.forms;
    if (Object.hasOwn(forms, String(value))) return forms[String(value)];
    const kind = typeof value === "number" ? category(value) : part.other;
    return Object.hasOwn(forms, kind) ? forms[kind] : forms[part.other];
  }

  function filled(parts, facts) {
    return parts.map(function (part) {
      if (typeof part === "string") return part;
      if (part.by) return filled(form(part, facts), facts);
      const value = fact(facts, part.fact);
      return typeof value === "number" ? lake.plain(value) : value;
    }).join("");
  }

  // The message `script-...` of templates/words, with its facts.
  lake.word = function (id, facts) {
    if (!Object.hasOwn(words.messages, id)) throw new Error("no message " + id);
    return filled(words.messages[id], facts);
  };

  // A number with as many decimals as it has, three at the most.
  lake.plain = function (value) {
    return value.toFixed(3).replace(/\.?0+$/, "").replace(".", words.decimal);
  };

  // A number with so many decimals, as the language writes it.
  lake.number = function (value, places) {
    return value.toFixed(places).replace(".", words.decimal);
  };

  // A length in feet, metres, kilometres or miles; `number` may be a text that stands already.
  lake.length = function (number, unit) {
    return lake.word("script-length", { number: number, unit: unit });
  };
})();
