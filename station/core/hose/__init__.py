"""The pneumofathometer hose: whether its reading may be believed, and the depth behind it."""
