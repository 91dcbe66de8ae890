"""What is shipped for preparing a dive, as TOML, and its readers: lists, profiles of rules, cards, signals.

A file of the user's own with the same key stands in the place of ours. Every file is checked whole: all that
is wrong with it is told at once, with file, line and key.
"""
