"""Makes the invented demo survey: one terrain, and from it the photos, soundings, logs and the answer sheet."""
