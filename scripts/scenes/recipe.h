// What decides a scene: one seed per part, and what a plan may fix. What is not fixed is -1 and left to chance.
#pragma once
#include "scene.h"

enum Family { kTraining, kHeldBack, kDemo };

struct Recipe {
    uint64_t port, metal, deposit, pose, light;  // seeds
    int family;
    bool calm;            // looks and views of everyday photos, without the far ends of their ranges
    bool dusky;           // a dark port with metal that passes for crust at first sight, bare or nearly so, or an even dark coat
    bool blasted;         // fresh from the blasting cabinet: matte all over, next to nothing left on it
    bool laden;           // years behind it: crust over a good part at the least
    int view, second;     // -1: by chance
    float index;          // wanted deposit index, 0..100
    float filmShare;      // wanted share of film
    int method;           // cleaning
    float cleaning;       // 0..1
    float growth;         // crust added since the first odometer reading, as a share of the valve
};

HD Recipe recipeFromSeed(uint64_t seed, int family) {
    uint64_t s = mix64(seed ^ (uint64_t(family) << 56));
    bool calm = family == kDemo || Random(mix64(s + 6)).chance(0.8f);
    bool dusky = family != kDemo && Random(mix64(s + 7)).chance(0.24f);
    // Every other photo after cleaning by blasting shows such metal; the pale even coats that it resembles are rarer.
    bool blasted = family != kDemo && !dusky && Random(mix64(s + 8)).chance(0.18f);
    return Recipe{mix64(s + 1), mix64(s + 2), mix64(s + 3), mix64(s + 4), mix64(s + 5), family, calm, dusky, blasted, false, -1, -1, -1, -1, kNone, 0, 0};
}
