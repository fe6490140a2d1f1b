#include "net.h"

#include <algorithm>
#include <memory>
#include <opencv2/dnn.hpp>
#include <opencv2/dnn/shape_utils.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "guard.hpp"

struct Network {
    cv::dnn::Net net;
    cv::dnn::MatShape input;
    std::vector<cv::String> names;
    std::vector<cv::Mat> outputs;
};

char *net_read(const void *onnx, size_t size, int channels, int height, int width, Network **made) {
    return guarded([&] {
        auto network = std::make_unique<Network>();
        network->net = cv::dnn::readNetFromONNX(static_cast<const char *>(onnx), size);
        // Else OPENCV_DNN_BACKEND_DEFAULT in the environment decides, and may name one that this OpenCV lacks or that reckons otherwise.
        network->net.setPreferableBackend(cv::dnn::DNN_BACKEND_OPENCV);
        network->net.setPreferableTarget(cv::dnn::DNN_TARGET_CPU);
        network->input = {1, channels, height, width};
        *made = network.release();
    });
}

char *net_add_output(Network *network, const char *name, size_t *length) {
    return guarded([&] {
        const int layer = network->net.getLayerId(name);
        if (layer < 0) throw std::runtime_error("the net has no output '" + std::string(name) + "'");
        std::vector<cv::dnn::MatShape> in, out;
        network->net.getLayerShapes(network->input, layer, in, out);
        if (out.size() != 1) throw std::runtime_error("'" + std::string(name) + "' is not a single output");
        *length = cv::dnn::total(out.front());
        network->names.emplace_back(name);
    });
}

char *net_forward(Network *network, const void *input) {
    return guarded([&] {
        network->outputs.clear();
        network->net.setInput(static_cast<const cv::Mat *>(input)->reshape(1, network->input));
        network->net.forward(network->outputs, network->names);
    });
}

char *net_output(const Network *network, size_t i, float *copy, size_t length) {
    return guarded([&] {
        const cv::Mat &output = network->outputs.at(i);
        if (output.type() != CV_32F || !output.isContinuous() || output.total() != length)
            throw std::runtime_error("output '" + network->names.at(i) + "' is not of the shape it was to have");
        // The net's own matrix is overwritten by the next run, hence the copy.
        std::copy_n(output.ptr<float>(), length, copy);
    });
}

void net_close(Network *network) { delete network; }
