"""The book: the yard's history in a database, SQLite in a file or PostgreSQL by address.

Entries are only ever added. A mistake is corrected by a later entry that names the earlier one;
every saved revision of the yard file is kept whole. Each row carries a digest of itself and of
the row before it, so that damage shows and a paper can be shown to match the book.
"""
