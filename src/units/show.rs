//! Quantities back to text, in the units and the number of digits a person can use.
