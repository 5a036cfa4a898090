# How every message about an input is put together.

fault-line = { $file }: { $value }. Expected { $expected }.
