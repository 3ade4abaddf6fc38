"""A section of a page as plain text: everything that a reader is told, and what is said in place of each picture."""

from collections.abc import Iterator

from preflare.reporting.records import (
    Block,
    Figure,
    FindingBlock,
    Headline,
    Items,
    Page,
    Paragraph,
    Part,
    Person,
    Section,
    Table,
    Text,
)


def marked(text: Text) -> str:
    """A text with _estimates_ between low lines and [links](where they lead)."""
    return "".join(
        f"_{s.text}_" if s.kind == "estimate" else f"[{s.text}]({s.href})" if s.kind == "link" else s.text for s in text
    )


def page_texts(page: Page) -> dict[str, str]:
    """The head of a page and each of its sections as text, by the section's id; "head" holds what stands above them."""
    return {"head": _joined(_head(page))} | {s.id: _joined(_section(s)) for s in page.sections}


def _joined(lines: Iterator[str]) -> str:
    return "\n".join(line.replace("\u00a0", " ").rstrip() for line in lines) + "\n"


def _head(page: Page) -> Iterator[str]:
    yield f"# {page.title}"
    yield f"{page.place}. {page.kind_of_page}"
    yield f"! {marked(page.short_caution)}"
    for line in page.headlines:
        yield _headline(line)
        yield from (f"  * {marked(told)}" for told in line.lines)
    yield from (marked(text) for text in (page.lead, page.now, page.facts, page.privacy) if text)
    if page.masthead:
        yield from _block(page.masthead)
    yield f"## {page.cautions_title}"
    yield from map(marked, page.cautions)


def _headline(line: Headline) -> str:
    return f"* {line.grade_word}: {marked(line.sentence)}" if line.grade else f"* {marked(line.sentence)}"


def _section(section: Section) -> Iterator[str]:
    yield f"## {section.question}"
    for block in section.blocks:
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Paragraph):
        yield f"({block.role}) {marked(block.text)}"
    elif isinstance(block, Items):
        yield from (f"- {marked(item)}" for item in block.items)
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Figure):
        yield f"(picture) {block.alternative}"
        yield from [f"(caption) {marked(block.caption)}"] if block.caption else []
        yield from _table(block.table) if block.table else ()
    elif isinstance(block, Person):
        yield f"### [{block.name}]({block.href})"
        yield marked(block.facts)
        yield from _block(block.figure) if block.figure else ()
    else:
        yield from _nested(block)


def _nested(block: FindingBlock | Part) -> Iterator[str]:
    if isinstance(block, FindingBlock):
        yield f"### {block.grade_word}: {block.label}"
        yield marked(block.sentence)
        yield from (f"(small) {marked(line)}" for line in block.small)
        inner: tuple[Block, ...] = (*([block.figure] if block.figure else []), *block.behind)
    else:
        yield f"### {block.title}"
        inner = block.blocks
    for part in inner:
        yield from _block(part)


def _table(table: Table) -> Iterator[str]:
    yield f"(table{', folded' if table.is_folded else ''}) {table.caption}"
    yield " | ".join(table.head)
    yield from (" | ".join(map(marked, row)) for row in table.rows)
