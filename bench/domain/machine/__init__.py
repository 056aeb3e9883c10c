"""What a machine says of itself, by the tools of a boot stick: the text of each read into plain values."""
