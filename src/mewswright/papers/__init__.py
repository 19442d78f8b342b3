"""Papers: the pages that get printed, and the files that go with them.

`mewswright.papers.pack.build_pack` is the way in. A page is typeset by typst from the
templates in `typ/`; what a yard says reaches them as JSON and never as markup, so that
no name can break a page.
"""
