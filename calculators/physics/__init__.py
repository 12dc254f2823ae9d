"""Physical relations shared by the calculators, in plain floats; each module states its units and its source."""
