// Package deposit measures what lies on the valve: a class for every readable valve pixel, the shares of the classes,
// coverage and deposit index with their 95 % intervals, colour and texture of deposit and bare metal.
//
// The classes are the net's. Colour and texture are measured by formula and stand beside them; they have no say in the
// index.
//
// Measure is a pure function of its arguments: same photo, region and options, same result, bit for bit.
package deposit
