"""An edition on paper: sheets set for the printer, tagged and made to be kept."""
