"""The registers of gear and people: SQLite files in the user's data folder that only grow."""
