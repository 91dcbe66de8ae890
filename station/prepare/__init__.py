"""Before and after the dive: gear proved, people and plan ready, lists worked off, locks, cards, the watch.

Pure: values in, values out. It knows nothing of the core, so that the core may watch over it. What people
do here are acts (`station.prepare.acts`), folded over a `Desk` (`station.prepare.desk`).
"""
