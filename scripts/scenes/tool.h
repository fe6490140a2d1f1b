// What is held in front of the valve: fingers, a nozzle, a brush, a hose, a pick. Tapering rods with round ends.
#pragma once
#include "scene.h"

HD float rodDistance(const Tool &t, int i, Vec p) {
    Vec along = t.to[i] - t.from[i], q = p - t.from[i];
    float share = clampf(dot(q, along) / (dot(along, along) + 1e-6f), 0, 1);
    return length(q - along * share) - lerp(t.thick[i], t.thin[i], share);
}

HD_ONCE float toolDistance(const Tool &t, Vec p) {
    float best = 1e9f;
    for (int i = 0; i < t.count; i++) best = fminf(best, rodDistance(t, i, p));
    if (t.ribs > 0 && best < 0.3f) best -= 0.04f * sinf(t.ribs * length(p - t.from[0])) - 0.04f;
    return 0.9f * best;
}
