# Tables beside the atlas.

table-not-listed = { $reason } (not listed)
