"""Making a new house at the keys: a page for each thing it is asked, nothing written before the end."""
