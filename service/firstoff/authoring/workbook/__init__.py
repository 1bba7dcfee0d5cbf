"""Workbooks: a machine described in sheets, as XLSX or as a folder of CSV files, and the way to Turtle and back.

``sheets`` derives the sheets from the ontology; ``reading`` makes statements of tables and ``telling`` tables of
statements; ``xlsx`` and ``csv_folder`` read and write the files.
"""
