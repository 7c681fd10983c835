"""Lays a page out with the PDF library, as often as need be, without reading, styling and boxing it anew each time.

Runs in the child process of the PDF writer. The library has one call for all its steps; those before the layout take
half of the time and would come out the same. Its boxes and their styles are kept: a change of a style is seen when
they are laid out again. What is laid out again unchanged is, byte for byte, what the library's own call makes.
"""

from __future__ import annotations

from typing import Any


class Sheets:
    """A page in boxes with their styles, to be laid out on sheets of paper."""

    def __init__(self, html: str, fetcher: Any, options: dict[str, Any]) -> None:
        import weasyprint  # noqa: PLC0415 - under the limits of the child process
        from weasyprint.css.counters import CounterStyle  # noqa: PLC0415
        from weasyprint.document import Document  # noqa: PLC0415
        from weasyprint.formatting_structure.build import build_formatting_structure  # noqa: PLC0415
        from weasyprint.pdf import VARIANTS  # noqa: PLC0415
        from weasyprint.text.fonts import FontConfiguration  # noqa: PLC0415

        self._html = weasyprint.HTML(string=html, base_url=None, url_fetcher=fetcher)
        self._options = weasyprint.DEFAULT_OPTIONS | VARIANTS[options["pdf_variant"]][1] | options
        self._fonts, counters = FontConfiguration(), CounterStyle()
        self._context = Document._build_layout_context(self._html, self._fonts, counters, {}, self._options)  # noqa: SLF001
        self._boxes = build_formatting_structure(
            self._html.etree_element,
            self._context.style_for,
            self._context.get_image_from_uri,
            self._html.base_url,
            self._context.target_collector,
            counters,
            self._context.footnotes,
        )
        _part_styles(self._boxes)

    def laid_out(self) -> Any:
        """The library's document of the boxes as their styles are now."""
        from weasyprint.document import Document, DocumentMetadata, Page, get_html_metadata  # noqa: PLC0415
        from weasyprint.layout import LayoutContext, layout_document  # noqa: PLC0415

        before = self._context
        context = LayoutContext(
            before.style_for, before.get_image_from_uri, self._fonts, before.counter_style, before.target_collector
        )
        pages = [Page(box) for box in layout_document(self._html, self._boxes, context)]
        metadata = DocumentMetadata(**get_html_metadata(self._html))
        document = Document(pages, metadata, self._html.url_fetcher, self._fonts, {}, self._options["output_intent"])
        document._html = self._html  # noqa: SLF001 - the library sets it so
        return document


def _part_styles(root: Any) -> None:
    """Gives every block a style of its own.

    The library lets elements that all the same rules hold for share one: a page that were to begin with one row would
    begin with every row like it.
    """
    from weasyprint.formatting_structure.boxes import BlockLevelBox  # noqa: PLC0415

    first: dict[int, Any] = {}
    copies: dict[tuple[int, int], Any] = {}
    for box in root.descendants():
        shared = box.style
        if isinstance(box, BlockLevelBox) and first.setdefault(id(shared), box.element) is not box.element:
            key = (id(shared), id(box.element))
            if key not in copies:
                copies[key] = shared.copy()
            box.style = copies[key]
