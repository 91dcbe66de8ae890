"""What the station computes: values in, values out."""
