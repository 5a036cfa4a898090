# What photos and files are called where their names are not told.

published-photo = photo { $id }
published-left-out = file left out { $number }
published-a-folder = a folder of photos
published-a-file = a file
