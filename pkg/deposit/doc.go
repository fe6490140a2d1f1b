// Package deposit measures what lies on the valve: a class for every readable valve pixel, the shares of the classes,
// coverage and deposit index with their 95 % intervals, colour and texture of deposit and bare metal.
//
// Two readings that do not know of each other are made: one from the net's evidence (the measurement proper), one from
// relief, sheen and tint by formula. When they contradict each other the result says so.
//
// Measure is a pure function of its arguments: same photo, region and options, same result, bit for bit.
package deposit
