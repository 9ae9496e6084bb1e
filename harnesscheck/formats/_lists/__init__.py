"""From-to lists and pin tables as people keep them: read tolerantly, with every row accounted for.

``cells`` reads files into sheets of cells, ``tables`` finds the tables on a sheet, ``headers`` and ``spellings`` know
what people write, ``layouts/`` holds one family of layout a file, ``draft`` gathers what was understood into our own
file format, and ``account`` says of each row what became of it.
"""
