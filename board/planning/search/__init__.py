"""From a problem to a plan: laying loads in one by one, mending, searching on, and keeping the best."""
