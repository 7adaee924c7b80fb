"""Spreadsheets in: grids, headings, words, typed columns, and the account of every row."""
