// Package grade is the fixed scale: from a deposit index to a grade, and nothing else.
package grade
