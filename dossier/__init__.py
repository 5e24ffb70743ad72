"""A build folder is read into a Build; figures are worked out; as-built is judged against declared (conform); all of
that is one record; the audience gate lets an Edition out; pages are written from the Edition; publish makes of them a
site, a print edition or a sealed pack."""
