"""The printed pattern as plain records: all that the page and the PDF show, worded and in order, before any markup."""
