#include "setup.h"

#include <opencv2/core.hpp>
#include <opencv2/core/utils/logger.hpp>

#include "guard.hpp"

char *setup_opencv(void) {
    return guarded([] {
        cv::setNumThreads(1);
        // What goes wrong is returned as an error; OpenCV must not write it to stderr as well.
        cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
    });
}

int opencv_threads(void) { return cv::getNumThreads(); }
