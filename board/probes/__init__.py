"""What probes send: messages read, mapped to what they measure, thinned; and why a message is bad."""
