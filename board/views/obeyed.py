"""What a terminal would obey in a text, taken out of it, or escaped where the text is JSON.

A terminal obeys C0 and C1 controls and the sequences they begin (ECMA-48), and turns text at marks of
direction (Unicode Standard Annex 9). JSON may have such characters as escapes (RFC 8259, section 7).
"""

import unicodedata

# controls, marks of direction or no width, broken characters, breaks of lines and paragraphs
_OBEYED = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})


def harmless(text: str) -> str:
    """The text without characters that a terminal obeys; ends of lines and tabs stay.

    What follows a control stays to be seen: a name that ends in one hides nothing of what stands after it.
    """
    if text.replace("\n", "").isprintable():
        return text
    return "".join(
        c
        for at, c in enumerate(text)
        if c in "\n\t" or (c == "\r" and text[at + 1 : at + 2] == "\n") or not _obeyed(c)
    )


def escaped(document: str) -> str:
    """A JSON document that says the same with every such character as an escape."""
    if document.replace("\n", "").isprintable():
        return document
    return "".join(c if c == "\n" or not _obeyed(c) else _escape(c) for c in document)


def _obeyed(c: str) -> bool:
    return not c.isprintable() and unicodedata.category(c) in _OBEYED


def _escape(c: str) -> str:
    """One character as JSON escapes it: in UTF-16, a pair for those beyond U+FFFF."""
    units = c.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[at : at + 4]}" for at in range(0, len(units), 4))
