"""Where everything is joined: the only place that knows drivers and simulators and the station alike."""
