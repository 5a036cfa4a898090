# Tables beside the atlas.

table-not-listed = { $reason } (nicht aufgeführt)
