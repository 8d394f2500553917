"""`board feed`: take in what probes send, from a pipe, a growing file or a broker."""
