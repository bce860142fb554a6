"""What follows from what the shop wrote: pure, no file, clock or terminal."""
