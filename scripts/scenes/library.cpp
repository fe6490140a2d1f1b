// The one entry of libscenes.so. Built by nvcc the pointers are device pointers and the work is queued on `stream`;
// built by g++ they are host pointers and `stream` is not used. Returns 0, or the error number of the device.
#ifdef __CUDACC__
#include "render_cuda.h"
#else
#include "render_cpu.h"
#endif

extern "C" int scenes_render(uint64_t seed, int count, int width, int height, int family, int look, int mode, int samples, float *rgb,
                             uint8_t *region, uint8_t *deposit, float *facts, void *stream) {
    auto batch = [&](const Scene *scenes) {
        return Batch{scenes, count, width, height, mode, samples, seed, rgb, region, deposit, facts};
    };
#ifdef __CUDACC__
    // This library has a CUDA runtime of its own: take the GPU from the caller's memory.
    cudaPointerAttributes owner;
    if (int e = failed(cudaPointerGetAttributes(&owner, rgb), "output")) return e;
    if (int e = failed(cudaSetDevice(owner.device), "device")) return e;
    cudaStream_t queue = static_cast<cudaStream_t>(stream);
    Recipe *recipes = nullptr;
    Scene *scenes = nullptr;
    if (int e = failed(cudaMallocAsync(&recipes, count * sizeof(Recipe), queue), "memory")) return e;
    if (int e = failed(cudaMallocAsync(&scenes, count * sizeof(Scene), queue), "memory")) return e;
    int e = seedBatch(recipes, seed, count, family, queue);
    if (!e) e = sampleBatch(recipes, scenes, count, queue);
    if (!e && look == kOneValve) e = closeInBatch(recipes, scenes, count, float(height) / float(width), queue);
    if (!e) e = renderBatch(batch(scenes), queue);
    cudaFreeAsync(scenes, queue);
    cudaFreeAsync(recipes, queue);
    return e;
#else
    (void)stream;
    Buffer<Recipe> recipes(count);
    Buffer<Scene> scenes(count);
    seedBatch(recipes.data, seed, count, family);
    sampleBatch(recipes.data, scenes.data, count);
    if (look == kOneValve) closeInBatch(recipes.data, scenes.data, count, float(height) / float(width));
    return renderBatch(batch(scenes.data));
#endif
}
