"""Rules as dated data, judged over facts: no framework, no clock, no files, no treatments."""
