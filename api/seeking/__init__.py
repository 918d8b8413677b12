"""Looking for a better week behind the pages: asked for, in one hand at a time, told, ended."""
