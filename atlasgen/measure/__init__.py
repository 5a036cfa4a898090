"""Pure: works out what is known of depth, level and coverage, and how well."""
