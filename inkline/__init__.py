"""inkline: exact calendar layouts, drawn as hand-inked stamps that still line up."""
