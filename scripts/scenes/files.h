// What the command writes: previews, masks, linear floats, one line of truth per photo.
#pragma once
#include <algorithm>
#include <cstdio>
#include <fstream>
#include <string>
#include <vector>
#include "plan.h"
#include "truth.h"

struct Picture {
    int width, height;
    const float *rgb;
    const uint8_t *region, *deposit;
    const float *facts;
    size_t size() const { return size_t(width) * height; }
};

inline std::ofstream create(const std::string &path) {
    std::ofstream out(path, std::ios::binary);
    if (!out) throw std::runtime_error("cannot write " + path);
    return out;
}

inline void writeMask(const std::string &path, const Picture &p, const uint8_t *mask) {
    auto out = create(path);
    out << "P5\n" << p.width << " " << p.height << "\n255\n";
    out.write(reinterpret_cast<const char *>(mask), std::streamsize(p.size()));
}

// Raw little-endian floats after the header line "F32 width height 3".
inline void writeLinear(const std::string &path, const Picture &p) {
    auto out = create(path);
    out << "F32 " << p.width << " " << p.height << " 3\n";
    out.write(reinterpret_cast<const char *>(p.rgb), std::streamsize(p.size() * 3 * sizeof(float)));
}

// A quick look: the 90th percentile of the green channel to 0.6, a soft shoulder, sRGB.
inline void writePreview(const std::string &path, const Picture &p) {
    std::vector<float> levels(p.size());
    for (size_t i = 0; i < p.size(); i++) levels[i] = p.rgb[3 * i + 1];
    std::nth_element(levels.begin(), levels.begin() + levels.size() * 9 / 10, levels.end());
    float gain = 0.6f / std::max(levels[levels.size() * 9 / 10], 1e-6f);
    auto out = create(path);
    out << "P6\n" << p.width << " " << p.height << "\n255\n";
    for (size_t i = 0; i < 3 * p.size(); i++) {
        float v = 1 - std::exp(-1.4f * p.rgb[i] * gain);
        v = v < 0.0031308f ? 12.92f * v : 1.055f * std::pow(v, 1 / 2.4f) - 0.055f;
        out.put(char(int(255 * v + 0.5f)));
    }
}

inline std::string truthOf(const Picture &p, int region) {
    int n[4] = {0, 0, 0, 0}, all = 0;
    for (size_t i = 0; i < p.size(); i++) {
        bool inside = region ? p.region[i] == region : p.region[i] == 1 || p.region[i] == 2;
        if (inside) n[p.deposit[i]]++, all++;
    }
    if (all < 50) return "null";  // too few pixels to state shares
    double s = 1.0 / all;
    char text[300];
    snprintf(text, sizeof text, "{\"pixels\": %d, \"bare\": %.4f, \"film\": %.4f, \"medium\": %.4f, \"heavy\": %.4f, \"coverage\": %.2f, \"index\": %.2f}",
             all, n[0] * s, n[1] * s, n[2] * s, n[3] * s, 100 * (1 - n[0] * s), 100 * (n[3] + 0.5 * n[2] + 0.25 * n[1]) * s);
    return text;
}

inline std::string quotedOr(const std::map<std::string, std::string> &notes, const char *key, const char *otherwise) {
    auto it = notes.find(key);
    return it == notes.end() ? otherwise : "\"" + it->second + "\"";
}

inline std::string numberOr(const std::map<std::string, std::string> &notes, const char *key, const char *otherwise) {
    auto it = notes.find(key);
    return it == notes.end() ? otherwise : it->second;
}

// Names and fields as in testdata's truth.json; metal and look are this renderer's own numbers (MetalKind, Relief).
inline std::string truthLine(const Planned &plan, const Picture &p) {
    const float *f = p.facts;
    const auto &n = plan.notes;
    const char *views[4] = {"bore", "flange", "mouth", "hand"};
    std::ostringstream out;
    out << "{\"photo\": \"" << plan.name << "\", \"set\": " << quotedOr(n, "set", "\"single\"") << ", \"group\": " << quotedOr(n, "group", "null")
        << ", \"role\": " << quotedOr(n, "role", "null") << ", \"method\": " << quotedOr(n, "method", "null")
        << ", \"odometer_mi\": " << numberOr(n, "odometer", "null") << ", \"growth\": " << numberOr(n, "growth", "null")
        << ", \"refuse\": " << (f[0] > 0 ? "null" : "\"no-valve\"") << ", \"view\": \"" << views[int(f[10])] << "\""
        << ", \"metal\": " << int(f[8]) << ", \"look\": " << int(f[9]) << ", \"second_valve\": " << (f[3] > 0 ? "true" : "false")
        << ", \"width\": " << p.width << ", \"height\": " << p.height << ", \"stem_pixels\": " << f[4] << ", \"head_hidden\": " << f[2]
        << ", \"head\": " << truthOf(p, 1) << ", \"stem\": " << truthOf(p, 2) << ", \"both\": " << truthOf(p, 0) << "}";
    return out.str();
}
