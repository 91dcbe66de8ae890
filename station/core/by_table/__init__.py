"""The dive by the tables: the pure rules of `station.core.decompression` on the state of a diver."""
