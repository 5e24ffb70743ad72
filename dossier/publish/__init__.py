"""Pages in; a site, an archive, a print edition or a sealed pack out."""
