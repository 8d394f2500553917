"""What readings taken during a cook tell of the rest of it."""
