"""The mistakes that people make: an exercise that names one of these needs no words of its own for it."""

from jetlib.tables import DATA
from jetlib.tables.toml_file import read_toml

#: name -> what is said to whoever makes that mistake.
WORDS = read_toml(DATA / "mistakes.toml", what="file of mistakes", like='"one hole only" = "That is one hole alone."')
