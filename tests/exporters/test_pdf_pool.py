"""Many PDFs at once: the same bytes as one by one, limits of their own, and a worker that is given up is replaced."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from msgspec.structs import replace

from convert.document.records import TermSystem
from convert.errors import OutputRefused
from convert.exporters.pdf.form import Look, PdfOptions, write_pdf
from convert.exporters.pdf.pool import PdfPool
from tests.exporters.samples import GRADING, MERE, PROOF

pytestmark = [pytest.mark.slow, pytest.mark.timeout(90)]


def test_the_bytes_are_those_of_a_single_pdf():
    options = [PdfOptions(system=system, look=look) for system in TermSystem for look in Look]
    with PdfPool(2, {}) as pool, ThreadPoolExecutor(2) as threads:
        made = list(threads.map(lambda one: pool.write(MERE, GRADING, PROOF, one).data, options))
    assert [write_pdf(MERE, GRADING, PROOF, one).data for one in options] == made


def test_a_pdf_that_takes_too_long_is_given_up_and_the_next_is_made():
    paragraphs = tuple((f"Paragraph {n} of very many.",) for n in range(20_000))
    with PdfPool(1, {}) as pool:
        with pytest.raises(OutputRefused, match="took longer than 2 s"):
            pool.write(replace(MERE, notes=paragraphs), GRADING, PROOF, PdfOptions(seconds=2))
        assert pool.write(MERE, GRADING, PROOF, PdfOptions()).data.startswith(b"%PDF-")


def test_limits_hold_for_each_pdf_alone():
    """What one refused leaves the worker as it was."""
    with PdfPool(1, {}) as pool:
        with pytest.raises(OutputRefused, match="MB of memory"):
            pool.write(MERE, GRADING, PROOF, PdfOptions(megabytes=150))
        assert pool.write(MERE, GRADING, PROOF, PdfOptions()).data.startswith(b"%PDF-")
