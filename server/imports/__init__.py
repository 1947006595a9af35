"""Rooms, walls and openings from files: read into plans, shown, and only then stored.

    plans.py        what a file comes to
    storing.py      the facts that it becomes
    room_words.py   what a room is, from what somebody named it
    csv_rooms.py    a table of rooms, walls and openings; a bad line is named by its number and column
    ifc_rooms.py    spaces, doors and windows of an IFC file (ISO 16739); a bad entity is named
    ifc_worker.py   the process that reads IFC, with a limit on its time and memory
    reading.py      a file of either kind, told apart by what is in it

A file is read whole or not at all: nothing is half-imported.
"""
