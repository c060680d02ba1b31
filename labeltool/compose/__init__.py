"""From a formula and its materials to the percents of every INCI name, and to the declaration of each market."""
