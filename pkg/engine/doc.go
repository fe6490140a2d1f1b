// Package engine says what the photos of an inspection say together: photos to valves, valves to cylinders, cylinders
// to the engine.
//
// Grade scores the photos of an inspection folder and is the whole of it; Of brings together photos that were scored
// elsewhere, Combine figures from anywhere. A Graded inspection is what comparing, trends and reports are made of;
// saved by Write and read by Read, it stands for its folder.
//
// A figure that no photo carries is NaN inside and null in JSON, never 0. All values are plain data.
package engine
