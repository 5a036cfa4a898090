"""Pure: works out where everything is."""
