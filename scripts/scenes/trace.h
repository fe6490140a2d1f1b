// The whole scene as one distance, and rays through it.
#pragma once
#include "clutter.h"
#include "deposit.h"
#include "port.h"
#include "tool.h"

struct Hit {
    float t;
    int part;  // kNothing when the ray left the scene
};

HD Vec toValve(const Scene &s, int i, Vec p) { return p - s.valves[i].base; }

// A cylinder around the valve and its guide; outside it the parts are too far away to need their exact distance.
HD float valveBound(const Scene &s, int i, Vec p) {
    Vec q = toValve(s, i, p);
    return sqrtf(q.x * q.x + q.y * q.y) - s.seats[i].outer;
}

HD_ONCE float partDistance(const Scene &s, int part, Vec p) {
    int which = 0;
    switch (part) {
    case kWall: return wallDistance(s, p);
    case kSeat: return s.valveCount == 2 ? fminf(seatDistance(s.seats[0], p), seatDistance(s.seats[1], p)) : seatDistance(s.seats[0], p);
    case kValve1: return valveDistance(s.valves[0], toValve(s, 0, p));
    case kValve2: return valveDistance(s.valves[1], toValve(s, 1, p));
    case kGuide: return s.valveCount == 2 ? fminf(guideDistance(s.guides[0], p), guideDistance(s.guides[1], p)) : guideDistance(s.guides[0], p);
    case kTool: return toolDistance(s.tool, p);
    default: return clutterDistance(s, p, &which);
    }
}

HD float engineDistance(const Scene &s, Vec p, int *part) {
    if (s.view == kClutterView) {
        *part = kClutter;
        return partDistance(s, kClutter, p);
    }
    float best = wallDistance(s, p);
    *part = kWall;
    for (int i = 0; i < (s.valveCount == 2 ? 2 : 1); i++) {
        float bound = valveBound(s, i, p);
        if (bound > 0.4f) {
            best = fminf(best, bound);
            continue;
        }
        float seat = seatDistance(s.seats[i], p), guide = guideDistance(s.guides[i], p);
        if (seat < best) best = seat, *part = kSeat;
        if (guide < best) best = guide, *part = kGuide;
        if (s.valveCount == 0) continue;
        float valve = valveDistance(s.valves[i], toValve(s, i, p));
        if (valve < best) best = valve, *part = i == 0 ? kValve1 : kValve2;
    }
    if (s.valveCount == 0 && s.solidCount > 0) {
        float crown = partDistance(s, kClutter, p);
        if (crown < best) best = crown, *part = kClutter;
    }
    return best;
}

HD_ONCE float sceneDistance(const Scene &s, Vec p, int *part) {
    float best = engineDistance(s, p, part);
    if (s.tool.count == 0) return best;
    float tool = toolDistance(s.tool, p);
    if (tool < best) best = tool, *part = kTool;
    return best;
}

// The surface between t = lo (outside) and hi (inside). Steep crust is no true distance field, so a step can land within it,
// where everything would be in shadow.
HD float stepBack(const Scene &s, Vec eye, Vec dir, float lo, float hi) {
    int part;
    for (int i = 0; i < 5; i++) {
        float middle = 0.5f * (lo + hi);
        if (sceneDistance(s, eye + dir * middle, &part) > 0)
            lo = middle;
        else
            hi = middle;
    }
    return lo;
}

// Sphere tracing from `eye` along the unit vector `dir`, to within `spread` of the distance travelled.
HD_ONCE Hit trace(const Scene &s, Vec eye, Vec dir, float from, float to, float spread, int steps) {
    float t = from, last = from;
    int part = kNothing;
    for (int i = 0; i < steps && t < to; i++) {
        float d = sceneDistance(s, eye + dir * t, &part);
        float close = spread * t + 2e-4f;
        if (d < -close) return Hit{stepBack(s, eye, dir, last, t), part};
        if (d < close) return Hit{t, part};
        last = t;
        t += d;
    }
    // Out of steps close to a surface counts as that surface: rays that graze a wall would leave holes otherwise.
    if (t < to) return Hit{t, part};
    return Hit{to, kNothing};
}

// Share of light that passes from p to q, with the penumbra of a source seen under 1/sharpness.
HD_ONCE float visibility(const Scene &s, Vec p, Vec q, float sharpness, int steps) {
    Vec way = q - p;
    float far = length(way), t = 0.02f, open = 1;
    Vec dir = way * (1 / far);
    int part;
    for (int i = 0; i < steps && t < far - 0.05f; i++) {
        float d = sceneDistance(s, p + dir * t, &part);
        open = fminf(open, sharpness * d / t);
        if (open < 0.01f) return 0;
        t += clampf(d, 0.012f, 2.0f);
    }
    return clampf(open, 0, 1);
}

HD_ONCE Vec surfaceNormal(const Scene &s, int part, Vec p, float e) {
    Vec a = vec(1, -1, -1), b = vec(-1, -1, 1), c = vec(-1, 1, -1), d = vec(1, 1, 1);
    return normalize(a * partDistance(s, part, p + a * e) + b * partDistance(s, part, p + b * e) +
                     c * partDistance(s, part, p + c * e) + d * partDistance(s, part, p + d * e));
}

HD bool sees(const Scene &s, Vec eye, Vec target) {
    Vec way = target - eye;
    float far = length(way);
    return trace(s, eye, way * (1 / far), 0.05f, far, 0.003f, 64).t > far - 0.2f;
}
