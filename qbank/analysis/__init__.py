"""Item analysis: what the marks of a class say of its items, by the trade's usual figures.

    marked table --read--> Sheet (students by items) --figures--> ClassFigures --plots, page--> one HTML page, or JSON

No name of a student goes beyond the sheet: neither the page nor the JSON holds one.
"""
