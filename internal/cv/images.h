// Image operations. Matrices are cv::Mat; results are made by the callee. Functions return NULL when all went well, else a
// message to be released with free().
#pragma once

#ifdef __cplusplus
extern "C" {
#endif

// One connected area of a mask.
typedef struct {
    int area, left, top, width, height;
    double x, y;  // centre of mass
} Blob;

char *image_components(const void *mask, void *labels, Blob **blobs, int *count);
char *image_morph(const void *mask, int operation, const void *kernel, void *result);
char *image_gaussian(const void *plane, double sigma, void *result);
char *image_distance(const void *mask, void *result);
char *image_remap(const void *plane, const void *x, const void *y, double outside, void *result);
char *image_warp(const void *plane, const double affine[6], int width, int height, double outside, void *result);
// Refines affine; correlation receives a NaN when the two do not align. an empty mask means all pixels.
char *image_align(const void *still, const void *moved, const void *mask, int motion, int steps, double affine[6],
                  double *correlation);

#ifdef __cplusplus
}
#endif
