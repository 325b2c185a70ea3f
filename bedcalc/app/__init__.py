"""Panels: what a person moves, answers and reads in a workbook.

They hold no engineering: a panel changes a field of a bed, asks
:func:`bedcalc.evaluate` and shows what follows. ``style`` is the sheet of paper they
all lie on, ``controls`` the rows one moves, ``lesson`` the blocks of a lesson,
``words`` the texts that every lesson shares. Import the module you need; nothing is
loaded before.
"""
