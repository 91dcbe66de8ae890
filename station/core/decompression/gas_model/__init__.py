"""A second opinion on the tables: exponential-linear kinetics with the VVal-79 limits, quoted second hand."""
