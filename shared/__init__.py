"""The words that drivers, simulators and station agree on."""
