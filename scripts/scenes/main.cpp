// scenes: renders valve photos with exact truth.
//   scenes --family 0|1|2 --look frame|valve --mode path|fast --seed S --count N --size WxH --samples K --out DIR
//   scenes --plan FILE ... : the photos that FILE names, also as linear floats
#include <chrono>
#include <filesystem>
#include <iostream>
#ifdef __CUDACC__
#include "render_cuda.h"
#else
#include "render_cpu.h"
#endif
#include "files.h"

struct Options {
    int family = kDemo, look = kWholeFrame, mode = kFast, count = 1, width = 320, height = 256, samples = 1;
    uint64_t seed = 1;
    std::string out = ".", plan;
};

static Options readOptions(int argc, char **argv) {
    Options o;
    if (argc % 2 == 0) throw std::runtime_error("every option takes one value");
    for (int i = 1; i < argc; i += 2) {
        std::string key = argv[i], value = argv[i + 1];
        if (key == "--family") o.family = std::stoi(value);
        else if (key == "--look") o.look = choice(value, {"frame", "valve"});
        else if (key == "--mode") o.mode = choice(value, {"fast", "path"});
        else if (key == "--seed") o.seed = std::stoull(value);
        else if (key == "--count") o.count = std::stoi(value);
        else if (key == "--samples") o.samples = std::stoi(value);
        else if (key == "--out") o.out = value;
        else if (key == "--plan") o.plan = value;
        else if (key == "--size") {
            if (sscanf(value.c_str(), "%dx%d", &o.width, &o.height) != 2) throw std::runtime_error("size is WxH");
        } else throw std::runtime_error("unknown option " + key);
    }
    if (o.count < 1 || o.samples < 1 || o.width < 16 || o.height < 16) throw std::runtime_error("count, samples and size must be positive");
    return o;
}

static std::vector<Planned> wanted(const Options &o) {
    if (!o.plan.empty()) return readPlan(o.plan, o.family);
    std::vector<Planned> plan(o.count);
    for (int i = 0; i < o.count; i++) {
        char name[16];
        snprintf(name, sizeof name, "%04d", i);
        plan[i].name = name;
        plan[i].recipe = recipeFromSeed(mix64(o.seed + uint64_t(i)), o.family);
    }
    return plan;
}

static void writePhoto(const Options &o, const Planned &p, const Picture &picture, std::ofstream *truth) {
    std::string base = o.out + "/" + p.name;
    if (!o.plan.empty()) writeLinear(base + ".f32", picture);
    writePreview(base + ".ppm", picture);
    writeMask(base + ".region.pgm", picture, picture.region);
    writeMask(base + ".deposit.pgm", picture, picture.deposit);
    *truth << truthLine(p, picture) << "\n";
}

static int run(const Options &o) {
    std::vector<Planned> plan = wanted(o);
    int n = int(plan.size());
    // What cannot be written must show now, not after the rendering.
    std::filesystem::create_directories(o.out);
    std::ofstream truth = create(o.out + "/truth.jsonl");
    size_t pixels = size_t(n) * o.width * o.height;
    Buffer<Recipe> recipes(n);
    Buffer<Scene> scenes(n);
    Buffer<float> rgb(3 * pixels), facts(kFacts * size_t(n));
    Buffer<uint8_t> region(pixels), deposit(pixels);
    for (int i = 0; i < n; i++) recipes.data[i] = plan[i].recipe;
    auto start = std::chrono::steady_clock::now();
    if (sampleBatch(recipes.data, scenes.data, n)) return 1;
    if (o.look == kOneValve && closeInBatch(recipes.data, scenes.data, n, float(o.height) / float(o.width))) return 1;
    Batch batch{scenes.data, n, o.width, o.height, o.mode, o.samples, o.seed, rgb.data, region.data, deposit.data, facts.data};
    if (renderBatch(batch) || waitForBatch()) return 1;
    std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    for (int i = 0; i < n; i++) {
        size_t at = size_t(i) * o.width * o.height;
        writePhoto(o, plan[i], Picture{o.width, o.height, rgb.data + 3 * at, region.data + at, deposit.data + at, facts.data + kFacts * i}, &truth);
    }
    std::cerr << n << " photos in " << took.count() << " s\n";
    return 0;
}

int main(int argc, char **argv) {
    try {
        return run(readOptions(argc, argv));
    } catch (const std::exception &e) {
        std::cerr << "scenes: " << e.what() << "\n";
        return 2;
    }
}
