// The batch on a GPU: one thread per pixel, one block per scene to be drawn and per photo to be counted.
#pragma once
#include <cstdio>
#include <cstdlib>
#include "render.h"

inline int failed(cudaError_t e, const char *what) {
    if (e == cudaSuccess) return 0;
    fprintf(stderr, "scenes: %s: %s\n", what, cudaGetErrorString(e));
    return int(e);
}

// Memory that both sides can read.
template <class T> struct Buffer {
    T *data = nullptr;
    explicit Buffer(size_t n) {
        if (failed(cudaMallocManaged(&data, n * sizeof(T)), "memory")) exit(1);
    }
    ~Buffer() { cudaFree(data); }
    Buffer(const Buffer &) = delete;
    Buffer &operator=(const Buffer &) = delete;
};

__global__ void seedKernel(Recipe *recipes, uint64_t seed, int count, int family) {
    int i = blockIdx.x * blockDim.x + threadIdx.x;
    if (i < count) recipes[i] = recipeFromSeed(mix64(seed + i), family);
}

// One block of kPlaces threads per scene: one draws it, all try a place for the camera.
__global__ void sampleKernel(const Recipe *recipes, Scene *scenes) {
    __shared__ Place places[kPlaces];
    const Recipe &recipe = recipes[blockIdx.x];
    Scene *scene = &scenes[blockIdx.x];
    if (threadIdx.x == 0) drawScene(recipe, scene);
    __syncthreads();
    places[threadIdx.x] = tryPlace(*scene, recipe.pose, threadIdx.x);
    __syncthreads();
    if (threadIdx.x == 0) lookFrom(scene, places, recipe.pose);
}

// One block per scene: all threads look at cells, one settles the window.
__global__ void closeInKernel(const Recipe *recipes, Scene *scenes, float outAspect) {
    __shared__ Bounds bounds[2];
    Scene *scene = &scenes[blockIdx.x];
    if (threadIdx.x < 2) bounds[threadIdx.x] = Bounds{kGrid, kGrid, -1, -1, 0};
    __syncthreads();
    auto low = [](int *n, int v) { atomicMin(n, v); };
    auto high = [](int *n, int v) { atomicMax(n, v); };
    for (int cell = threadIdx.x; cell < kGrid * gridRows(scene->aspect); cell += blockDim.x)
        markCell(*scene, cell, bounds, low, high, [](int *n) { atomicAdd(n, 1); });
    __syncthreads();
    if (threadIdx.x == 0) lookCloser(scene, bounds, outAspect, recipes[blockIdx.x].pose);
}

// Blocks of 8x8 pixels keep the rays of a warp close together, so that they take the same turns. Every ray reads the scene at
// every step, so it lies in shared memory.
__global__ void __launch_bounds__(64, 16) pixelKernel(Batch b) {
    __shared__ Scene scene;
    const int *from = reinterpret_cast<const int *>(&b.scenes[blockIdx.z]);
    int *to = reinterpret_cast<int *>(&scene);
    for (int i = threadIdx.y * 8 + threadIdx.x; i < int(sizeof(Scene) / sizeof(int)); i += 64) to[i] = from[i];
    __syncthreads();
    int x = blockIdx.x * 8 + threadIdx.x, y = blockIdx.y * 8 + threadIdx.y;
    if (x < b.width && y < b.height) renderPixel(b, scene, blockIdx.z, x, y);
}

__global__ void settleKernel(Batch b) {
    __shared__ Tally tally;
    __shared__ int rimSeen;
    int photo = blockIdx.x, size = b.width * b.height;
    int64_t first = int64_t(photo) * size;
    for (int i = threadIdx.x; i < int(sizeof(Tally) / sizeof(int)); i += blockDim.x) reinterpret_cast<int *>(&tally)[i] = 0;
    if (threadIdx.x == 0) rimSeen = 0;
    __syncthreads();
    for (int i = threadIdx.x; i < size; i += blockDim.x)
        countPixel(b, first + i, i % b.width, i / b.width, &tally, [](int *n) { atomicAdd(n, 1); });
    __syncthreads();
    int principal = principalValve(b.scenes[photo], tally);
    for (int i = threadIdx.x; i < size; i += blockDim.x) settleLabel(principal, &b.region[first + i], &b.deposit[first + i]);
    if (threadIdx.x < 64 && principal >= 0 && valvePixels(tally, principal) > 0 && rimPointSeen(b.scenes[photo], principal, threadIdx.x, b.width, b.height))
        atomicAdd(&rimSeen, 1);
    __syncthreads();
    if (threadIdx.x == 0) photoFacts(b.scenes[photo], tally, rimSeen, b.width, b.height, b.facts + kFacts * photo);
}

inline int seedBatch(Recipe *recipes, uint64_t seed, int count, int family, cudaStream_t stream = 0) {
    seedKernel<<<(count + 31) / 32, 32, 0, stream>>>(recipes, seed, count, family);
    return failed(cudaGetLastError(), "seeding");
}

inline int sampleBatch(const Recipe *recipes, Scene *scenes, int count, cudaStream_t stream = 0) {
    sampleKernel<<<count, kPlaces, 0, stream>>>(recipes, scenes);
    return failed(cudaGetLastError(), "drawing scenes");
}

inline int closeInBatch(const Recipe *recipes, Scene *scenes, int count, float outAspect, cudaStream_t stream = 0) {
    closeInKernel<<<count, 256, 0, stream>>>(recipes, scenes, outAspect);
    return failed(cudaGetLastError(), "looking closer");
}

inline int renderBatch(const Batch &b, cudaStream_t stream = 0) {
    dim3 grid((b.width + 7) / 8, (b.height + 7) / 8, b.count), block(8, 8);
    pixelKernel<<<grid, block, 0, stream>>>(b);
    if (int e = failed(cudaGetLastError(), "rendering")) return e;
    settleKernel<<<b.count, 128, 0, stream>>>(b);
    return failed(cudaGetLastError(), "counting");
}

inline int waitForBatch() { return failed(cudaDeviceSynchronize(), "device"); }
