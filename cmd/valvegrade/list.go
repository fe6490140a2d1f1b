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

// files is the value of an option that names a file and may be given several times; commas belong to names.
type files []string

// Set takes the name that one use of the option gives.
func (f *files) Set(name string) error {
	*f = append(*f, name)
	return nil
}

func (f *files) String() string { return strings.Join(*f, " ") }
