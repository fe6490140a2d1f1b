#include "images.h"

#include <opencv2/imgproc.hpp>
#include <stdexcept>

#include "guard.hpp"

namespace {

// The zero Mat of Go, which its error paths return, has no matrix behind it.
cv::Mat &out(void *matrix) {
    if (!matrix) throw std::invalid_argument("no matrix");
    return *static_cast<cv::Mat *>(matrix);
}

// Some functions of OpenCV read address 0 when a matrix is empty, and no guard catches that.
const cv::Mat &in(const void *matrix) {
    const cv::Mat &m = out(const_cast<void *>(matrix));
    if (m.empty()) throw std::invalid_argument("empty matrix");
    return m;
}

}  // namespace

char *image_gaussian(const void *plane, double sigma, void *result) {
    return guarded([&] { cv::GaussianBlur(in(plane), out(result), cv::Size(), sigma, sigma, cv::BORDER_REFLECT_101); });
}

char *image_shrink(const void *picture, int width, int height, void *result) {
    return guarded([&] {
        const cv::Mat &from = in(picture);
        const bool halved = 2 * width <= from.cols && 2 * height <= from.rows;
        cv::resize(from, out(result), cv::Size(width, height), 0, 0, halved ? cv::INTER_AREA : cv::INTER_LINEAR);
    });
}
