// Package lossless writes pictures as PNG (Portable Network Graphics, third edition, W3C 2025), several times as
// fast as image/png and no larger.
//
// image/png tries five filters on every row; here each row holds its difference from the one above (filter type 2,
// "Up"), which suits masks, whose rows repeat, and photos about as well as any one filter does.
package lossless
