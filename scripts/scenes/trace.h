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

HD Vec toValve(const Scene &s, int i, Vec p) { return upright(s, i, p) - s.valves[i].base; }

HD Vec fromValve(const Scene &s, int i, Vec q) { return leaning(s, i, q + s.valves[i].base); }

// How far q lies on the side of the seat's face, seen from the edge where the back of the head ends; above 0 it is that face
// or the rim below it. The plane between the two bisects the angle that they form.
HD float overFace(const Valve &v, Vec q) {
    float rho = sqrtf(q.x * q.x + q.y * q.y), from = fmaxf(v.faceFrom, tulipFoot(v));
    return (rho - from) * 0.88f - (q.z - (v.headRadius - from)) * 0.47f;
}

// Share of the deposit that lies at q: none on the seat's face, and none on the stem where the guide ran.
HD float depositKept(const Valve &v, Vec q) {
    return (1 - smoothstep(-0.06f, 0, overFace(v, q))) * (1 - smoothstep(-0.15f, 0, q.z - v.guideFrom));
}

// The valve with its deposit where one can lie. Far away the bound of the crust will do.
HD_ONCE float coatedDistance(const Valve &v, Vec q) {
    float d = valveDistance(v, q);
    if (d > 0.2f || v.faceFrom > 1e8f) return d;
    float kept = depositKept(v, q), rho = sqrtf(q.x * q.x + q.y * q.y);
    if (kept < 1) {
        float bare = 0.65f * bareValveDistance(v, q);
        d = bare < v.deposit.maxThickness + 0.05f ? lerp(bare, d, kept) : d;
    }
    if (q.z < v.seatFace) d = fmaxf(d, fmaxf((rho + q.z - v.headRadius) * 0.70710678f, rho - v.headRadius));
    return fmaxf(d, q.z - v.stemTop);
}

// A cylinder around the valve and its guide; outside it the parts are too far away to need their exact distance.
HD float valveBound(const Scene &s, int i, Vec p) {
    Vec q = p - s.seats[i].centre;
    return sqrtf(q.x * q.x + q.y * q.y) - s.seats[i].outer;
}

HD float bothSeats(const Scene &s, Vec p) {
    float d = seatDistance(s.seats[0], upright(s, 0, p));
    return s.valveCount == 2 ? fminf(d, seatDistance(s.seats[1], upright(s, 1, p))) : d;
}

HD float bothGuides(const Scene &s, Vec p) {
    float d = guideDistance(s.guides[0], upright(s, 0, p));
    return s.valveCount == 2 ? fminf(d, guideDistance(s.guides[1], upright(s, 1, p))) : d;
}

HD_ONCE float partDistance(const Scene &s, int part, Vec p) {
    int which = 0;
    switch (part) {
    case kWall: return wallDistance(s, p);
    case kSeat: return bothSeats(s, p);
    case kValve1: return coatedDistance(s.valves[0], toValve(s, 0, p));
    case kValve2: return coatedDistance(s.valves[1], toValve(s, 1, p));
    case kGuide: return bothGuides(s, p);
    case kTool: return toolDistance(s.tool, p);
    default: return clutterDistance(s, p, &which);
    }
}

// A valve out of the engine, and what lies or stands around it.
HD float handDistance(const Scene &s, Vec p, int *part) {
    float best = coatedDistance(s.valves[0], toValve(s, 0, p));
    *part = kValve1;
    if (s.solidCount == 0) return best;
    float other = partDistance(s, kClutter, p);
    if (other >= best) return best;
    *part = kClutter;
    return other;
}

HD float engineDistance(const Scene &s, Vec p, int *part) {
    if (s.view == kClutterView) {
        *part = kClutter;
        return partDistance(s, kClutter, p);
    }
    if (s.view == kInHand) return handDistance(s, p, part);
    float best = wallDistance(s, p);
    *part = kWall;
    if (s.view == kMouth && dot(p - s.port.mouth, s.port.mouthNormal) > -0.5f) return best;
    for (int i = 0; i < (s.valveCount == 2 ? 2 : 1); i++) {
        Vec q = upright(s, i, p);
        float bound = valveBound(s, i, q);
        if (bound > 0.4f) {
            best = fminf(best, bound);
            continue;
        }
        float seat = seatDistance(s.seats[i], q), guide = guideDistance(s.guides[i], q);
        if (seat < best) best = seat, *part = kSeat;
        if (guide < best) best = guide, *part = kGuide;
        if (s.valveCount == 0) continue;
        float valve = coatedDistance(s.valves[i], q - s.valves[i].base);
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

// How far a ray from outside the open port runs before it can meet the flange; a ray from inside meets its end there.
HD float aheadOfMouth(const Scene &s, Vec eye, Vec dir) {
    float slope = dot(dir, s.port.mouthNormal), out = s.mouth.highest + 0.02f - dot(eye - s.port.mouth, s.port.mouthNormal);
    return out / (fabsf(slope) > 1e-4f ? slope : 1e-4f);
}

// Share of light that passes from p to q, with the penumbra of a source seen under 1/sharpness.
HD_ONCE float visibility(const Scene &s, Vec p, Vec q, float sharpness, int steps) {
    Vec way = q - p;
    float far = length(way), t = 0.02f, open = 1;
    Vec dir = way * (1 / far);
    // Nothing stands before an open port.
    if (s.view == kMouth && s.tool.count == 0 && dot(dir, s.port.mouthNormal) > 0.05f)
        far = fminf(far, fmaxf(aheadOfMouth(s, p, dir), 0.0f) + 0.05f);
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
