# What lies between a camera and the bank it looks at

sight-across = across { $place }
sight-across-water = across the water
