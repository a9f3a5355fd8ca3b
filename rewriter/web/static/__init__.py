"""The files that the page is made of: style sheet, script, icon, typeface."""
