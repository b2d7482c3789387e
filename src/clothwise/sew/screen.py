"""The steps as one page for the phone beside the machine: tick boxes that remember, pictures drawn in place.

One self-contained file: no network, no fonts to fetch; ticks are kept by the browser under the make's own key.
Large type, one column, readable in the dark, and usable without the script (the boxes then forget).
"""

from __future__ import annotations

import hashlib
from html import escape
from typing import Any

from clothwise.sew.contents import BookletContent, Pictures, pictures_of, told

KEY_LETTERS = 12  # of the make's key in the browser: enough to tell all makes of a life apart

STYLE = """
:root { color-scheme: light dark; --ink: #1f1f1f; --ground: #fffdf8; --quiet: #6b6b6b; --accent: #a3352b;
  --line: #cfcac0; --tone: #f6f1e7; }
@media (prefers-color-scheme: dark) { :root { --ink: #ece7dd; --ground: #1b1a18; --quiet: #a9a296;
  --accent: #e58a7d; --line: #4a463f; --tone: #2a2824; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 40rem; padding: 1rem 1rem 4rem; background: var(--ground); color: var(--ink);
  font: 1.1rem/1.5 Georgia, 'Times New Roman', serif; }
h1 { font-weight: normal; font-size: 1.8rem; margin: .5rem 0 0; }
h2 { font-weight: normal; font-size: 1.3rem; margin: 0; }
.quiet { color: var(--quiet); } .why { color: var(--quiet); font-style: italic; }
.step { border-top: 1px solid var(--line); padding: 1.2rem 0; }
.step label { display: flex; gap: .8rem; align-items: center; min-height: 2.75rem; cursor: pointer; }
.step input { width: 1.6rem; height: 1.6rem; flex: none; accent-color: var(--accent); }
.step.done .inside { display: none; } .step.done h2 { color: var(--quiet); text-decoration: line-through; }
.number { color: var(--accent); }
.picture { background: #fff; padding: .5rem; margin: .6rem 0; text-align: center; border-radius: .3rem; }
.picture svg { max-width: 100%; height: auto; }
p { margin: .5rem 0; } dl { display: grid; grid-template-columns: auto 1fr; gap: .2rem .8rem; font-size: .9rem;
  font-family: system-ui, sans-serif; } dt { color: var(--accent); font-weight: bold; } dd { margin: 0; }
.stop { background: var(--tone); padding: .4rem .7rem; display: inline-block; font-size: .9rem; }
aside { border-left: 3px solid var(--accent); padding-left: .9rem; font-size: .95rem; }
"""

SCRIPT = """
const key = document.body.dataset.make;
let ticked = {};
try { ticked = JSON.parse(localStorage.getItem(key)) || {}; } catch (gone) { ticked = {}; }
for (const box of document.querySelectorAll('.step input')) {
  const show = () => box.closest('.step').classList.toggle('done', box.checked);
  box.checked = Boolean(ticked[box.id]);
  show();
  box.addEventListener('change', () => {
    ticked[box.id] = box.checked;
    try { localStorage.setItem(key, JSON.stringify(ticked)); } catch (full) { /* works on, forgets */ }
    show();
  });
}
"""


def screen(content: BookletContent) -> str:
    """The page as HTML text. Same content, same text."""
    pictures = pictures_of(content)
    data = told(content, pictures)
    labels, time = data["labels"], data["time"]
    title = escape(str(data["title"]))
    whom = f"{labels['for']} {escape(str(data['for_whom']))}, " if data["for_whom"] else ""
    safety = "".join(
        f"<p><strong>{escape(s['title'])}.</strong> {escape(s['text'])}</p>" for s in data["safety"]
    )
    before = "".join(f"<li>{escape(line)}</li>" for line in data["before"])
    steps = "".join(_step(step, pictures, labels) for step in data["steps"])
    return (
        "<!doctype html>\n"
        f'<html lang="{data["language"]}"><head><meta charset="utf-8"><title>{title}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<style>{STYLE}</style></head>"
        f'<body data-make="clothwise-{_key(content)}"><main><h1>{title}</h1>'
        f'<p class="quiet">{whom}{time["likely"]} ({time["low"]} {labels["to"]} {time["high"]})</p>'
        f"<h2>{labels['before']}</h2><ul>{before}</ul>"
        f"{steps}<h2>{labels['safety']}</h2><aside>{safety}</aside></main>"
        f"<script>{SCRIPT}</script></body></html>\n"
    )


def _key(content: BookletContent) -> str:
    """The make's own key, from its ticket; another order of work of the same make starts with fresh boxes."""
    parts = [
        content.ident,
        content.title,
        content.garment.name,
        content.made_on,
        *(s.name for s in content.steps),
    ]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:KEY_LETTERS]


def _step(step: dict[str, Any], pictures: Pictures, labels: dict[str, str]) -> str:
    """One step: a box to tick, and what is hidden once it is ticked."""
    number = step["number"]
    do = "".join(f"<p>{escape(line)}</p>" for line in step["do"])
    facts = "".join(f"<dt>{escape(what)}</dt><dd>{escape(value)}</dd>" for what, value in step["facts"])
    why = f'<p class="why">{escape(str(step["why"]))}</p>' if step["why"] else ""
    stop = f'<p class="stop">{escape(str(step["stop"]))}</p>' if step["stop"] else ""
    drawn = "".join(_picture(str(step[name]), pictures) for name in ("picture", "detail") if step[name])
    facts = f"<dl>{facts}</dl>" if facts else ""
    return (
        f'<section class="step" aria-label="{labels["step"]} {number}">'
        f'<h2><label><input type="checkbox" id="step{number}"><span class="number">{number}</span> '
        f"{escape(str(step['title']))}</label></h2>"
        f'<div class="inside"><p class="quiet">{step["time"]}</p>{drawn}{do}{why}{facts}{stop}</div></section>'
    )


def _picture(name: str, pictures: Pictures) -> str:
    text, alt = pictures[name]
    inline = text.replace("<svg ", f'<svg role="img" aria-label="{escape(alt)}" ', 1)
    return f'<div class="picture">{inline}</div>'
