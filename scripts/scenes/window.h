// The second look: instead of the whole frame, a window in which one valve fills about the share that the product's crop
// gives it. Frame coordinates are half-widths of the whole frame: x -1..1, y up to the aspect, downwards.
#pragma once
#include "truth.h"

enum Look { kWholeFrame, kOneValve };

constexpr int kGrid = 64;           // columns of the coarse look that finds the valves
constexpr int kSmallestCells = 12;  // of that look: a valve below this is no target

struct Bounds {
    int left, top, right, bottom, cells;  // of the grid, inclusive
};

HD int gridRows(float aspect) { return int(kGrid * aspect); }

// Which valve the middle of grid cell (column, row) shows: 0, 1, or -1.
HD int valveAt(const Scene &s, int column, int row) {
    Vec dir = cameraRay(s.camera, column + 0.5f, row + 0.5f, kGrid, gridRows(s.aspect));
    Label label = labelOf(s, dir, firstHit(s, dir, 0.016f));
    return label.region == 0 ? -1 : (label.region - 1) / 2;
}

HD Window anyWindow(float aspect, Random *r) {
    float half = r->logRange(0.12f, 1);
    return Window{(1 - half) * r->range(-1, 1), fmaxf(aspect - 0.8f * half, 0) * r->range(-1, 1), half};
}

// The window of the product: the valve lies in its middle and fills 80 % of it along the side that it fills more of, also where
// the window then reaches beyond the photo; here a little off in size and place, as the first look is.
HD Window windowAround(const Bounds &b, float aspect, float outAspect, Random *r) {
    float cell = 2.0f / kGrid;
    float wide = (b.right - b.left + 1) * cell, high = (b.bottom - b.top + 1) * cell;
    float fill = 0.8f * expf(0.17f * r->bell());
    float half = fmaxf(0.5f * fmaxf(wide, high / outAspect) / fill, 0.05f);
    float x = (b.left + b.right + 1) * 0.5f * cell - 1, y = (b.top + b.bottom + 1) * 0.5f * cell - aspect;
    return Window{x + 0.07f * half * r->bell(), y + 0.07f * half * outAspect * r->bell(), half};
}

// Share of the window that the bounds take.
HD float shareTaken(const Window &w, const Bounds &b, float aspect, float outAspect) {
    if (b.cells == 0) return 0;
    float cell = 2.0f / kGrid;
    float left = fmaxf(b.left * cell - 1, w.x - w.half), right = fminf((b.right + 1) * cell - 1, w.x + w.half);
    float top = fmaxf(b.top * cell - aspect, w.y - w.half * outAspect), bottom = fminf((b.bottom + 1) * cell - aspect, w.y + w.half * outAspect);
    return fmaxf(right - left, 0) * fmaxf(bottom - top, 0) / (4 * w.half * w.half * outAspect);
}

// Where a first look errs most: an empty seat, else anywhere.
HD Window missWindow(const Scene &s, const Bounds *bounds, float outAspect, Random *r) {
    if (s.view != kClutterView && s.valveCount == 0 && r->chance(0.6f)) {
        float x, y, radius = s.valves[0].headRadius;
        Vec middle = s.seats[0].centre;
        float depth = dot(middle - s.camera.eye, s.camera.forward);
        if (project(s.camera, middle, kGrid, gridRows(s.aspect), &x, &y) && x > 0 && y > 0 && x < kGrid && y < gridRows(s.aspect)) {
            float half = clampf(radius / (depth * s.camera.tanHalf) * r->range(1, 1.7f), 0.08f, 1);
            return Window{x * 2 / kGrid - 1 + 0.1f * half * r->bell(), y * 2 / kGrid - s.aspect + 0.1f * half * r->bell(), half};
        }
    }
    Window w = anyWindow(s.aspect, r);
    for (int k = 0; k < 12 && fmaxf(shareTaken(w, bounds[0], s.aspect, outAspect), shareTaken(w, bounds[1], s.aspect, outAspect)) > 0.12f; k++)
        w = anyWindow(s.aspect, r);
    return w;
}

// Settles window and target of a scene whose valves lie at the bounds.
HD void lookCloser(Scene *s, const Bounds *bounds, float outAspect, uint64_t seed) {
    Random r(mix64(seed + 501));
    bool seen[2] = {bounds[0].cells >= kSmallestCells, bounds[1].cells >= kSmallestCells};
    if ((!seen[0] && !seen[1]) || r.chance(0.08f)) {
        s->target = kNoTarget;
        s->camera.window = missWindow(*s, bounds, outAspect, &r);
        return;
    }
    s->target = seen[0] && seen[1] ? r.below(2) : seen[1] ? 1 : 0;
    s->camera.window = windowAround(bounds[s->target], s->aspect, outAspect, &r);
}
