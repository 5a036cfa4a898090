# Photographs that could not be published.

image-unreadable = { $file }: the file cannot be read ({ $why }). Expected the photo that was read before.
image-changed = { $file }: it changed while the atlas was made. Expected a photo that stays as it is. Build again.
image-damaged = { $file }: the picture is cut short or damaged ({ $why }). Expected a whole picture. Copy it again from the card, or leave it out.
