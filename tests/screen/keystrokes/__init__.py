"""What a person has to press for the main acts of a day, counted as it is pressed."""
