// The guard: runs work that calls OpenCV and reports an exception as text, because no exception may cross into Go.
#pragma once

#include <cstring>
#include <exception>
#include <utility>

// Returns nullptr when the work went well, else the message, to be released with free().
template <typename Work>
char *guarded(Work &&work) {
    try {
        std::forward<Work>(work)();
        return nullptr;
    } catch (const std::exception &problem) {  // cv::Exception is one of these
        return strdup(problem.what());
    } catch (...) {
        return strdup("unknown C++ exception");
    }
}
