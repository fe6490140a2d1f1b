// Package memory gives the process one heap in huge pages, in which OpenCV runs its nets half as long the first time.
// Whoever imports it changes how the whole process allocates in C: that is for a program to decide, never for a
// library.
package memory

import "C"
