"""B612 Regular and Bold: one family, digits of one width, licence in OFL.txt beside the files."""
