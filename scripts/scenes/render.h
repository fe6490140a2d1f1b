// Batches of photos into flat arrays, on the GPU (nvcc) or on all CPU cores (g++): the same code per pixel.
#pragma once
#include "integrate.h"
#include "sample.h"
#include "window.h"

enum Mode { kFast, kPath };

struct Batch {
    const Scene *scenes;
    int count, width, height, mode, samples;
    uint64_t seed;
    float *rgb;
    uint8_t *region, *deposit;
    float *facts;
};

// Light through image point (x, y); `centre` is what the ray through the pixel centre hit.
HD Vec lightThrough(const Batch &b, const Scene &s, float x, float y, float footprint, Hit centre, int sample, Random *rnd) {
    Vec dir = cameraRay(s.camera, x, y, b.width, b.height), eye = s.camera.eye, c;
    if (b.mode == kPath)
        c = pathLight(s, eye, dir, footprint, rnd);
    else
        c = quickLight(s, eye, dir, b.samples == 1 ? centre : firstHit(s, dir, footprint), footprint, sample);
    // A negative or undefined value here would poison a whole training batch.
    c = vec(fmaxf(c.x, 0), fmaxf(c.y, 0), fmaxf(c.z, 0));
    return c.x + c.y + c.z < 1e6f ? c : grey(0);
}

HD void renderPixel(const Batch &b, const Scene &s, int photo, int x, int y) {
    int64_t at = (int64_t(photo) * b.height + y) * b.width + x;
    float footprint = 2 * s.camera.tanHalf * s.camera.window.half / float(b.width);
    Random rnd(b.seed ^ mix64(uint64_t(at)));
    Vec middle = cameraRay(s.camera, x + 0.5f, y + 0.5f, b.width, b.height);
    Hit centre = firstHit(s, middle, footprint);
    Label label = labelOf(s, middle, centre);
    b.region[at] = label.region;
    b.deposit[at] = label.deposit;
    int side = int(ceilf(sqrtf(float(b.samples))));
    Vec sum = grey(0);
    for (int k = 0; k < b.samples; k++) {
        float u = b.samples == 1 ? 0.5f : (float(k % side) + rnd.unit()) / float(side);
        float v = b.samples == 1 ? 0.5f : (float(k / side % side) + rnd.unit()) / float(side);
        sum = sum + lightThrough(b, s, float(x) + u, float(y) + v, footprint, centre, k, &rnd);
    }
    sum = sum * (1 / float(b.samples));
    b.rgb[3 * at] = sum.x;
    b.rgb[3 * at + 1] = sum.y;
    b.rgb[3 * at + 2] = sum.z;
}

// Adds what the coarse look sees in one cell to the bounds; `low`, `high` and `add` are atomic on the GPU.
template <class Low, class High, class Add> HD void markCell(const Scene &s, int cell, Bounds *bounds, Low low, High high, Add add) {
    int column = cell % kGrid, row = cell / kGrid, valve = valveAt(s, column, row);
    if (valve < 0) return;
    Bounds &b = bounds[valve];
    low(&b.left, column), low(&b.top, row), high(&b.right, column), high(&b.bottom, row), add(&b.cells);
}

// Counts one pixel; `add` is the addition to use (atomic on the GPU).
template <class Add> HD void countPixel(const Batch &b, int64_t at, int x, int y, Tally *t, Add add) {
    if (b.region[at] == 0) return;
    int valve = (b.region[at] - 1) / 2, kind = (b.region[at] - 1) % 2;
    add(&t->pixels[valve][kind][b.deposit[at]]);
    if (abs(2 * x - b.width) < b.width / 2 && abs(2 * y - b.height) < b.height / 2) add(&t->central[valve]);
}
