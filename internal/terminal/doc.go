// Package terminal is how the program looks in a terminal: the table of results, the progress bar, and text made safe
// to print. What is for machines (JSON, pictures) does not pass through here.
package terminal
