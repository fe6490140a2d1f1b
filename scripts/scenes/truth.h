// What each pixel really shows, and the figures of the whole photo. One thread or block works on one photo.
#pragma once
#include "camera.h"

struct Label {
    uint8_t region, deposit;
};

// Region 1, 2 head and stem of the first valve, 3, 4 of the second; the deposit is given for both until the principal is known.
// The head is its back, up to where the closed seat touches it: seat face and rim, seen on open valves and on those out of the
// engine, are background. The stem is all of it that can be seen, bare where the guide ran.
HD Label labelOf(const Scene &s, Vec dir, Hit hit) {
    if (hit.part != kValve1 && hit.part != kValve2) return Label{0, kNotValve};
    int i = hit.part == kValve1 ? 0 : 1;
    Vec q = toValve(s, i, s.camera.eye + dir * hit.t);
    if (overFace(s.valves[i], q) > 0) return Label{0, kNotValve};
    bool stem = profileRadius(s.valves[i], q.z) < kHeadLimit;
    int deposit = depositKept(s.valves[i], q) > 0.5f ? depositClass(layerAt(s.valves[i], q)) : kBare;
    return Label{uint8_t(2 * i + (stem ? 2 : 1)), uint8_t(deposit)};
}

struct Tally {
    int pixels[2][2][4];  // valve, head or stem, deposit class
    int central[2];       // pixels of each valve in the middle half of the frame
};

HD int valvePixels(const Tally &t, int valve) {
    int sum = 0;
    for (int k = 0; k < 8; k++) sum += t.pixels[valve][k >> 2][k & 3];
    return sum;
}

// The principal valve: the larger one, with a say for the one nearer the middle.
HD float prominence(const Tally &t, int valve) { return float(valvePixels(t, valve)) + 0.5f * float(t.central[valve]); }

HD int principalValve(const Scene &s, const Tally &t) {
    if (s.target != kByProminence) return s.target;
    return prominence(t, 1) > prominence(t, 0) ? 1 : 0;
}

HD bool isAmbiguous(const Tally &t) {
    float a = prominence(t, 0), b = prominence(t, 1);
    return fminf(a, b) > 0.75f * fmaxf(a, b) && fmaxf(a, b) > 0;
}

// Rewrites one pixel's label so that the principal valve is 1, 2; where no valve is the target all are others.
HD void settleLabel(int principal, uint8_t *region, uint8_t *deposit) {
    if (*region == 0) return;
    int valve = (*region - 1) / 2, kind = (*region - 1) % 2;
    bool first = valve == principal;
    *region = uint8_t((first ? 1 : 3) + kind);
    if (!first) *deposit = kNotValve;
}

// Whether point k of 64 around the rim of the head can be seen in the frame.
HD bool rimPointSeen(const Scene &s, int valve, int k, int width, int height) {
    const Valve &v = s.valves[valve];
    float a = 2 * kPi * float(k) / 64, rho = 0.97f * fminf(s.seats[valve].throatRadius, tulipFoot(v));
    Vec p = fromValve(s, valve, vec(rho * cosf(a), rho * sinf(a), profileHeight(v, rho) + 0.5f * v.deposit.maxThickness));
    float x, y;
    if (!project(s.camera, p, width, height, &x, &y)) return false;
    return x >= 0 && y >= 0 && x < float(width) && y < float(height) && sees(s, s.camera.eye, p);
}

constexpr int kFacts = 20;

// Left, top, width and height in pixels of the whole frame on a picture that shows a window of it.
HD void framePlace(const Scene &s, int width, int height, float *place) {
    const Window &w = s.camera.window;
    bool whole = s.target == kByProminence;
    float pixels = 0.5f * float(width) / w.half, aspect = whole ? float(height) / float(width) : s.aspect;
    place[2] = 2 * pixels, place[3] = 2 * pixels * aspect;
    place[0] = 0.5f * float(width) - (1 + w.x) * pixels, place[1] = 0.5f * float(height) - (aspect + w.y) * pixels;
}

HD void photoFacts(const Scene &s, const Tally &t, int rimSeen, int width, int height, float *facts) {
    int k = principalValve(s, t), total = width * height;
    int valve = k < 0 ? 0 : valvePixels(t, k);
    for (int i = 0; i < kFacts; i++) facts[i] = 0;
    framePlace(s, width, height, facts + 16);
    facts[10] = s.view == kFlange ? 1 : s.view == kMouth ? 2 : s.view == kInHand ? 3 : 0;
    facts[11] = isAmbiguous(t) ? 1 : 0;
    if (s.view == kInHand) {
        facts[12] = 1;
        facts[13] = s.lights.sky.x, facts[14] = s.lights.sky.y, facts[15] = s.lights.sky.z;
    }
    if (valve == 0) return;
    const Valve &v = s.valves[k];
    auto both = [&](int kind) { return float(t.pixels[k][0][kind] + t.pixels[k][1][kind]); };
    float film = both(kFilm), medium = both(kMedium), heavy = both(kHeavy);
    Vec middle = fromValve(s, k, vec(0, 0, v.seatFace + v.tulipHeight + 0.5f));
    float depth = fmaxf(dot(middle - s.camera.eye, s.camera.forward), 0.1f);
    facts[0] = float(valve) >= 0.015f * float(total) ? 1 : 0;
    facts[1] = float(valve) / float(total);
    facts[2] = 1 - float(rimSeen) / 64;
    facts[3] = float(valvePixels(t, 1 - k)) / float(total);
    facts[4] = 0.5f * float(width) / (depth * s.camera.tanHalf * s.camera.window.half);
    facts[5] = length(v.base - s.camera.eye);
    facts[6] = 100 * (heavy + 0.5f * medium + 0.25f * film) / float(valve);
    facts[7] = 100 * (heavy + medium + film) / float(valve);
    facts[8] = float(v.metal.kind);
    facts[9] = float(v.deposit.crust.relief);
}
