# Files written by the built programs themselves, from the tables their --help and checks come from.
