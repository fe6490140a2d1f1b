// Package raster holds the operations on pixels that more than one room needs: shrinking by areas, places between the
// cells of a coarser grid, runs of equal labels, what hangs together, and opaque pictures in another form.
//
// Pictures are stored row by row. Arguments are only read and results are fresh unless a function says otherwise,
// and all functions may be called concurrently. The same input always gives the same bits: sums are taken in whole
// numbers or in a fixed order.
package raster
