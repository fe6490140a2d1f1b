#include "images.h"

#include <cstdlib>
#include <limits>
#include <new>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>
#include <stdexcept>

#include "guard.hpp"

namespace {

// The zero Mat of Go, which its error paths return, has no matrix behind it.
cv::Mat &out(void *matrix) {
    if (!matrix) throw std::invalid_argument("no matrix");
    return *static_cast<cv::Mat *>(matrix);
}

const cv::Mat &maybe(const void *matrix) { return out(const_cast<void *>(matrix)); }

// Some functions of OpenCV read address 0 when a matrix is empty, and no guard catches that.
const cv::Mat &in(const void *matrix) {
    if (maybe(matrix).empty()) throw std::invalid_argument("empty matrix");
    return maybe(matrix);
}

}  // namespace

char *image_components(const void *mask, void *labels, Blob **blobs, int *count) {
    return guarded([&] {
        cv::Mat stats, centres;
        const int n = cv::connectedComponentsWithStats(in(mask), out(labels), stats, centres, 8, CV_32S);
        auto *list = static_cast<Blob *>(std::malloc(sizeof(Blob) * n));
        if (!list) throw std::bad_alloc();
        for (int i = 0; i < n; ++i) {
            const int *s = stats.ptr<int>(i);
            const double *c = centres.ptr<double>(i);
            list[i] = {s[cv::CC_STAT_AREA],  s[cv::CC_STAT_LEFT],   s[cv::CC_STAT_TOP],
                       s[cv::CC_STAT_WIDTH], s[cv::CC_STAT_HEIGHT], c[0],
                       c[1]};
        }
        *blobs = list;
        *count = n;
    });
}

char *image_morph(const void *mask, int operation, const void *kernel, void *result) {
    return guarded([&] { cv::morphologyEx(in(mask), out(result), operation, in(kernel)); });
}

char *image_gaussian(const void *plane, double sigma, void *result) {
    return guarded([&] { cv::GaussianBlur(in(plane), out(result), cv::Size(), sigma, sigma, cv::BORDER_REFLECT_101); });
}

char *image_distance(const void *mask, void *result) {
    return guarded([&] { cv::distanceTransform(in(mask), out(result), cv::DIST_L2, cv::DIST_MASK_PRECISE, CV_32F); });
}

char *image_remap(const void *plane, const void *x, const void *y, double outside, void *result) {
    return guarded([&] {
        cv::remap(in(plane), out(result), in(x), in(y), cv::INTER_LINEAR, cv::BORDER_CONSTANT, cv::Scalar(outside));
    });
}

char *image_warp(const void *plane, const double affine[6], int width, int height, double outside, void *result) {
    return guarded([&] {
        const cv::Mat matrix(2, 3, CV_64F, const_cast<double *>(affine));
        cv::warpAffine(in(plane), out(result), matrix, cv::Size(width, height), cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                       cv::BORDER_CONSTANT, cv::Scalar(outside));
    });
}

char *image_align(const void *still, const void *moved, const void *mask, int motion, int steps, double affine[6],
                  double *correlation) {
    return guarded([&] {
        // findTransformECC works in float; the copy there and back is exact enough at 1/32 pixel.
        cv::Mat matrix;
        cv::Mat(2, 3, CV_64F, affine).convertTo(matrix, CV_32F);
        const cv::TermCriteria stop(cv::TermCriteria::COUNT | cv::TermCriteria::EPS, steps, 1e-5);
        try {
            *correlation = cv::findTransformECC(in(still), in(moved), matrix, motion, stop, maybe(mask), 5);
        } catch (const cv::Exception &problem) {
            if (problem.code != cv::Error::StsNoConv) throw;
            *correlation = std::numeric_limits<double>::quiet_NaN();
            return;
        }
        matrix.convertTo(cv::Mat(2, 3, CV_64F, affine), CV_64F);
    });
}
