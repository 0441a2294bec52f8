"""What Python's own reader makes of tables of comma-separated values.

usage: python3 tables.py FILE...

prints [{lines, rows}]: lines that end in CRLF, and the rows as lists of texts;
strict, so that a stray quote is an error.
"""
import csv
import json
import sys

tables = []
for name in sys.argv[1:]:
    with open(name, "rb") as file:
        lines = file.read().count(b"\r\n")
    with open(name, newline="", encoding="utf-8") as file:
        tables.append({"lines": lines, "rows": list(csv.reader(file, strict=True))})
json.dump(tables, sys.stdout)
