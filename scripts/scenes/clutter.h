// What is no valve: plates, lids, pipes, bolts and floors, so that "round and metallic" alone is no valve.
#pragma once
#include "noise.h"
#include "scene.h"

enum Shape { kBox, kCylinder, kBall, kRing, kPlane, kLid };

HD Vec toSolid(const Solid &o, Vec p) {
    Vec q = p - o.centre;
    return vec(dot(q, o.ax), dot(q, o.ay), dot(q, o.az));
}

HD float cylinderDistance(float rho, float z, float radius, float half) {
    float a = rho - radius, b = fabsf(z) - half;
    return fminf(fmaxf(a, b), 0.0f) + sqrtf(fmaxf(a, 0.0f) * fmaxf(a, 0.0f) + fmaxf(b, 0.0f) * fmaxf(b, 0.0f));
}

HD float solidDistance(const Solid &o, Vec p) {
    Vec q = toSolid(o, p);
    float rho = sqrtf(q.x * q.x + q.y * q.y);
    switch (o.shape) {
    case kBox: {
        Vec a = vec(fabsf(q.x) - o.size.x, fabsf(q.y) - o.size.y, fabsf(q.z) - o.size.z);
        return length(vec(fmaxf(a.x, 0), fmaxf(a.y, 0), fmaxf(a.z, 0))) + fminf(fmaxf(a.x, fmaxf(a.y, a.z)), 0.0f) - 0.03f;
    }
    case kCylinder: return cylinderDistance(rho, q.z, o.size.x, o.size.z) - 0.03f;
    case kBall: return length(q) - o.size.x;
    case kRing: {
        float a = rho - o.size.x;
        return sqrtf(a * a + q.z * q.z) - 0.3f * o.size.y;
    }
    case kLid: {
        float disc = cylinderDistance(rho, q.z, o.size.x, 0.12f), a = rho - o.size.x;
        float rim = sqrtf(a * a + q.z * q.z) - 0.2f;
        return fminf(disc, rim) - 0.02f;
    }
    default: return q.z;
    }
}

// The nearest solid, and which one it is.
HD float clutterDistance(const Scene &s, Vec p, int *which) {
    float best = 1e9f;
    for (int i = 0; i < s.solidCount; i++) {
        float d = solidDistance(s.solids[i], p);
        if (d < best) {
            best = d;
            *which = i;
        }
    }
    return best;
}
