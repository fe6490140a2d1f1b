package main

import "strings"

// list is the value of an option that may be given several times, or once with commas.
type list []string

// Set takes what one use of the option gives.
func (l *list) Set(text string) error {
	*l = append(*l, strings.Split(text, ",")...)
	return nil
}

func (l *list) String() string { return strings.Join(*l, ",") }
