"""The screen: what the keys do, what stands where, and the Textual screen that shows it."""
