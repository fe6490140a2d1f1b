// Draws what a hand holds into the view, once the camera has its place.
#pragma once
#include "sample_port.h"
#include "tool.h"

enum ToolKind { kFinger, kNozzle, kBrush, kHose, kPick, kToolKinds };

HD void addRod(Tool *t, Vec from, Vec to, float thick, float thin) {
    int i = t->count++;
    t->from[i] = from, t->to[i] = to, t->thick[i] = thick, t->thin[i] = thin;
}

HD void drawToolSurface(Tool *t, int kind, Random *r) {
    float level = kind == kHose ? r->logRange(0.015f, 0.1f) : r->range(0.05f, 0.2f);
    t->surface = drawSurface(level, 0.08f, r);
    t->surface.grimeShare *= 0.5f;
    if (kind == kFinger) {
        Vec skin = vec(1, r->range(0.58f, 0.75f), r->range(0.4f, 0.62f)) * r->logRange(0.12f, 0.6f);
        Vec glove = vec(r->range(0.02f, 0.3f), r->range(0.02f, 0.3f), r->range(0.02f, 0.5f));
        t->surface.colourA = r->chance(0.6f) ? skin : glove;
        t->surface.colourB = t->surface.colourA * r->range(0.7f, 1.1f), t->surface.specular = 0.04f, t->surface.rough = r->range(0.35f, 0.7f);
    } else if (kind != kHose) {
        bool brass = r->chance(0.4f);
        t->surface.colourA = brass ? vec(0.5f, 0.33f, 0.12f) * r->range(0.6f, 1) : r->tinted(r->range(0.05f, 0.25f), 0.05f);
        t->surface.colourB = t->surface.colourA, t->surface.specular = brass ? 0.3f : r->range(0.3f, 0.6f), t->surface.rough = r->range(0.12f, 0.45f);
    }
}

// From beside the lens towards a point in the frame; `reach` is the distance of the valve.
HD void layRods(const Camera &c, Tool *t, int kind, float reach, Random *r) {
    float start = reach * r->range(0.15f, 0.35f), end = reach * r->range(0.4f, 0.9f), turn = r->range(0, 2 * kPi), wide = c.tanHalf;
    Vec side = c.right * cosf(turn) + c.up * sinf(turn), across = cross(side, c.forward);
    float out = r->range(1.3f, 2.0f) * wide * start + 0.3f;
    Vec tip = c.eye + c.forward * end + side * (r->range(-0.3f, 0.6f) * wide * end) + across * (r->range(-0.5f, 0.5f) * wide * end);
    Vec root = c.eye + c.forward * start + side * out, way = normalize(tip - root);
    float size = clampf(reach * 0.12f, 0.15f, 1.2f);
    switch (kind) {
    case kFinger: {
        float thick = size * r->range(0.9f, 1.3f);
        int fingers = 1 + r->below(3);
        for (int i = 0; i < fingers; i++) {
            Vec beside = across * (2 * thick * (float(i) - 0.5f * float(fingers - 1)));
            Vec knuckle = lerp(root, tip, r->range(0.4f, 0.7f)) + side * (thick * r->range(0, 1.2f)) + beside;
            addRod(t, root + beside, knuckle, 1.1f * thick, thick);
            addRod(t, knuckle, tip + beside - way * (thick * r->range(0, 1.5f)), thick, 0.75f * thick);
        }
        break;
    }
    case kNozzle:
        addRod(t, root, lerp(root, tip, 0.7f), size * r->range(0.35f, 0.6f), size * 0.35f);
        addRod(t, lerp(root, tip, 0.7f), tip, size * 0.35f, size * r->range(0.1f, 0.2f));
        break;
    case kBrush: {
        addRod(t, root, lerp(root, tip, 0.65f), size * 0.15f, size * 0.15f);
        for (int i = 0; i < 7; i++) addRod(t, lerp(root, tip, 0.6f), tip + r->direction() * (0.5f * size), size * 0.09f, size * 0.06f);
        break;
    }
    case kHose: {
        float thick = size * r->range(0.35f, 0.8f);
        Vec knee = lerp(root, tip, 0.5f) + side * (thick * r->range(-2, 2)) + across * (thick * r->range(-2, 2));
        addRod(t, root, knee, thick, thick);
        addRod(t, knee, tip, thick, thick);
        if (r->chance(0.5f)) t->ribs = r->range(2, 5) / thick;
        break;
    }
    default:
        addRod(t, root, tip, size * 0.12f, size * 0.08f);
        addRod(t, tip, tip + normalize(way + across * r->range(-1.5f, 1.5f)) * (size * r->range(0.3f, 0.8f)), size * 0.08f, size * 0.03f);
    }
}

HD void holdTool(Scene *s, uint64_t seed) {
    Random r(mix64(seed + 41));
    if (s->family == kDemo || !r.chance(0.06f)) return;
    Tool &t = s->tool;
    int kind = r.below(kToolKinds);
    drawToolSurface(&t, kind, &r);
    float reach = s->valveCount > 0 ? length(s->camera.eye - s->valves[0].base) : 5;
    layRods(s->camera, &t, kind, reach, &r);
    if (toolDistance(t, s->camera.eye) < 0.1f + s->lights.ring) t.count = 0;  // neither lens nor lamps inside it
}
