"""An invented harbour works crew with its gear, for trying out and for tests. None of it exists.

Two outfits of deep-sea dress: outfit A is sound but for a hose whose test is out of date, outfit B carries a
breastplate that belongs to another helmet. A third, of the demand kind, is the standby's and is whole.
"""
