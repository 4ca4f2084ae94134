// The dose calculator.
