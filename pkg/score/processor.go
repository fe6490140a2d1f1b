package score

// ProcessorPoints is how far index, coverage, dark deposit and their intervals, 0 to 100, of one photo may differ
// between two results of the same version and still be the same measurement.
//
// The kernels of OpenCV add in another order on a processor with other instructions, and some of the net's values then
// differ in their last bits. Measured on 209 photos with AVX-512, AVX2, AVX and SSE 4 switched off one after the other
// (OPENCV_CPU_DISABLE): up to 8 of them differ, none in its grade; index and interval by 0.02 points at most, shares by
// 0.00004. Where a pixel at an edge changes its class, what rests on few pixels can move more: colours by 0.5, the
// width of a stem of which hardly anything is in view by a tenth.
const ProcessorPoints = 0.05
