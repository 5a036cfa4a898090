"""words.js: the browser fills every message as the program does."""

from __future__ import annotations

import json

import pytest
from browser import launched
from conftest import CHECKOUT

from atlasgen.model import patterns, wording
from atlasgen.model.wording import LANGUAGES, say, speaking
from atlasgen.write.spoken import script_words

pytestmark = pytest.mark.browser
SCRIPT = (CHECKOUT / "templates" / "web" / "js" / "words.js").read_text(encoding="utf-8")
VALUES = (0, 1, 2, 7, 2.5, 1234, "word", "one", "ramp")


@pytest.fixture(scope="module")
def page():
    """Open an empty page."""
    with launched() as browser:
        yield browser.new_page()


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_browser_fills_messages_as_the_program_does(page, language):
    """Every message of the scripts, with words and numbers for its facts."""
    with speaking(language):
        sent = script_words()
        asked, told = [], []
        for name in sent["messages"]:
            for value in VALUES:
                facts = dict.fromkeys(sorted(patterns.facts_of(wording.pattern_of(language, name))), value)
                asked.append([name, facts])
                told.append(say(name, **facts))
    page.evaluate(f"() => {{ window.lake = {{}}; window.ATLAS = {{ words: {json.dumps(sent)} }}; {SCRIPT} }}")
    assert page.evaluate("asked => asked.map(([name, facts]) => lake.word(name, facts))", asked) == told


def test_a_fact_that_is_not_given_is_an_error(page):
    """As in the program: never silence."""
    why = "() => { try { lake.word('script-nothing'); return ''; } catch (error) { return error.message; } }"
    assert page.evaluate(why) == "no message script-nothing"
