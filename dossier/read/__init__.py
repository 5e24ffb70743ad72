"""Build folder in, (Build, problems) out; the only room that looks round in the build folder."""
