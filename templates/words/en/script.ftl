# What the scripts of the web atlas say.

script-last-page = This is the last page.
script-first-page = This is the first page.
