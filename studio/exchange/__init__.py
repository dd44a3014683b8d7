"""Files and paper, in and out: a module a format. What a pattern is was decided before."""
