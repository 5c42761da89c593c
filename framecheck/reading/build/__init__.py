"""Records to the model: names looked up, left mirrored to right, shorthand written out."""
