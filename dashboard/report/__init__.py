"""How a document goes into a file: Markdown, a web page, a workbook, a PDF."""
