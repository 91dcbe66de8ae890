"""Air: what pressure a diver needs, what he has."""
