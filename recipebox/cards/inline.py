"""Words without the marks that Markdown and HTML put around them."""

import html
import re

_MARKS = re.compile(r"[\\*_`~\[\]<&!$]|==")
_CODE = re.compile(r"(?<!`)`{1,3}([^`]+)`{1,3}")
_IMAGE = re.compile(r"!\[([^\[\]]*)\](?:\([^()]*(?:\([^()]*\)[^()]*)?\)|\[[^\[\]]*\])")
_LINK = re.compile(r"\[([^\[\]]+)\](?:\([^()]*(?:\([^()]*\)[^()]*)?\)|\[[^\[\]]*\])(?:\{[^{}]*\})?")
_FOOTNOTE = re.compile(r"\[\^[^\[\]\s]+\]")
_TAG = re.compile(r"</?[a-zA-Z][a-zA-Z0-9]{0,10}(?:\s[^<>]*)?/?>")
_ADDRESS = re.compile(r"<([a-z]+://[^<>\s]+|[^<>\s@]+@[^<>\s]+)>")
_WIKI = re.compile(r"\[\[(?:[^\[\]|]*\|)?([^\[\]|]+)\]\]")
_STARS = re.compile(r"(\*{1,3})(?=\S)([^*\n]*[^*\s])\1")
_SCORES = re.compile(r"(?<!\w)(_{1,3})(?=[^\s_])((?:[^_\n]|(?<=\w)_(?=\w))*?[^\s_])\1(?!\w)")
_MARKED = re.compile(r"(?<!=)==(?=[^\s=])([^=]*[^=\s])==(?!=)")
_STRUCK = re.compile(r"~~(?=\S)([^~]*[^~\s])~~")
_ESCAPE = re.compile(r"\\([!-/:-@\[-`{-~])")
_FRACTION = re.compile(r"\$\s*\\t?frac\{?(\d+)\}?\{?(\d+)\}?\s*\$")


def plain(text: str) -> str:
    """The words of one line without emphasis, links, tags, escapes and entities, spaces made single."""
    if _MARKS.search(text) is None:
        return " ".join(text.split())
    kept: list[str] = []

    def escape(match: re.Match[str]) -> str:
        kept.append(match[1])
        return f"\x00{len(kept) - 1}\x00"

    if "$" in text:
        text = _FRACTION.sub(r"\1/\2", text)
    if "\\" in text:
        text = _ESCAPE.sub(escape, text)
    if "`" in text:
        text = _CODE.sub(r"\1", text)
    if "<" in text:
        text = _uncommented(text)
        text = _ADDRESS.sub(r"\1", text)
        text = _TAG.sub(lambda m: " " if m[0][:3].lower() in ("<br", "</l", "</p", "</t") else "", text)
    if "[" in text:
        text = _IMAGE.sub(r"\1", text)
        text = _FOOTNOTE.sub("", text)
        text = _LINK.sub(r"\1", text)
        text = _WIKI.sub(r"\1", text)
    if "*" in text:
        text = _unwrapped(_STARS, text)
    if "_" in text:
        text = _unwrapped(_SCORES, text)
    if "==" in text:
        text = _MARKED.sub(r"\1", text)
    if "~~" in text:
        # what is struck out is taken back, unless nothing would be left
        text = _STRUCK.sub("", text).strip() or _STRUCK.sub(r"\1", text)
    if "&" in text:
        text = html.unescape(text)
    if kept:
        text = re.sub("\x00(\\d+)\x00", lambda m: kept[int(m[1])], text)
    return " ".join(text.split())


def _uncommented(text: str) -> str:
    kept = []
    at = 0
    while (start := text.find("<!--", at)) >= 0 and (stop := text.find("-->", start)) >= 0:
        kept += [text[at:start], " "]
        at = stop + 3
    return "".join(kept) + text[at:]


def _unwrapped(pattern: re.Pattern[str], text: str) -> str:
    for _ in range(2):
        text, found = pattern.subn(r"\2", text)
        if not found:
            break
    return text
