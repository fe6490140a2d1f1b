// The batch on CPU cores.
#pragma once
#include <vector>
#include "render.h"

template <class T> struct Buffer {
    std::vector<T> store;
    T *data;
    explicit Buffer(size_t n) : store(n), data(store.data()) {}
    Buffer(const Buffer &) = delete;
    Buffer &operator=(const Buffer &) = delete;
};

inline void settlePhoto(const Batch &b, int photo) {
    Tally t{};
    int64_t first = int64_t(photo) * b.height * b.width;
    for (int y = 0; y < b.height; y++)
        for (int x = 0; x < b.width; x++) countPixel(b, first + y * b.width + x, x, y, &t, [](int *n) { ++*n; });
    int principal = principalValve(b.scenes[photo], t), rim = 0;
    for (int i = 0; i < b.height * b.width; i++) settleLabel(principal, &b.region[first + i], &b.deposit[first + i]);
    if (principal >= 0 && valvePixels(t, principal) > 0)
        for (int k = 0; k < 64; k++) rim += rimPointSeen(b.scenes[photo], principal, k, b.width, b.height);
    photoFacts(b.scenes[photo], t, rim, b.width, b.height, b.facts + kFacts * photo);
}

inline int seedBatch(Recipe *recipes, uint64_t seed, int count, int family) {
    for (int i = 0; i < count; i++) recipes[i] = recipeFromSeed(mix64(seed + uint64_t(i)), family);
    return 0;
}

inline int sampleBatch(const Recipe *recipes, Scene *scenes, int count) {
#pragma omp parallel for schedule(dynamic, 1)
    for (int i = 0; i < count; i++) {
        Place places[kPlaces];
        drawScene(recipes[i], &scenes[i]);
        for (int k = 0; k < kPlaces; k++) places[k] = tryPlace(scenes[i], recipes[i].pose, k);
        lookFrom(&scenes[i], places, recipes[i].pose);
    }
    return 0;
}

// The coarse look at each scene, and the window that follows from it.
inline int closeInBatch(const Recipe *recipes, Scene *scenes, int count, float outAspect) {
#pragma omp parallel for schedule(dynamic, 1)
    for (int i = 0; i < count; i++) {
        Bounds bounds[2] = {{kGrid, kGrid, -1, -1, 0}, {kGrid, kGrid, -1, -1, 0}};
        auto low = [](int *n, int v) { *n = *n < v ? *n : v; };
        auto high = [](int *n, int v) { *n = *n > v ? *n : v; };
        for (int cell = 0; cell < kGrid * gridRows(scenes[i].aspect); cell++) markCell(scenes[i], cell, bounds, low, high, [](int *n) { ++*n; });
        lookCloser(&scenes[i], bounds, outAspect, recipes[i].pose);
    }
    return 0;
}

inline int renderBatch(const Batch &b) {
#pragma omp parallel for collapse(2) schedule(dynamic, 4)
    for (int photo = 0; photo < b.count; photo++)
        for (int y = 0; y < b.height; y++)
            for (int x = 0; x < b.width; x++) renderPixel(b, b.scenes[photo], photo, x, y);
    for (int photo = 0; photo < b.count; photo++) settlePhoto(b, photo);
    return 0;
}

inline int waitForBatch() { return 0; }
