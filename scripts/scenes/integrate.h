// From a ray to the light that comes back along it: a cheap deterministic mode for training, a path tracer for pictures.
#pragma once
#include "camera.h"
#include "light.h"

struct Point {
    Vec p, n;
    Material m;
    int part;
};

HD Point shadingPoint(const Scene &s, Vec eye, Vec dir, Hit hit, float footprint, bool close) {
    Point x;
    x.part = hit.part;
    x.p = eye + dir * hit.t;
    x.n = surfaceNormal(s, hit.part, x.p, fmaxf(0.0015f, footprint * hit.t));
    x.m = seenMaterial(s, hit.part, x.p, close);
    if (hit.part != kTool) addLitter(s.litter, x.p, x.n, &x.m);
    x.n = normalize(x.n + x.m.lean);
    if (dot(x.n, dir) > 0) x.n = normalize(x.n - dir * (1.02f * dot(x.n, dir)));
    return x;
}

// What a secondary ray sees: lit surface without shadows or further bounces.
HD_ONCE Vec glimpse(const Scene &s, Vec p, Vec dir, int steps) {
    Hit hit = trace(s, p, dir, 0.03f, 25.0f, 0.012f, steps);
    if (hit.part == kNothing) return openAir(s, dir);
    Point x = shadingPoint(s, p, dir, hit, 0.01f, false);
    // Walls light each other: the sum over all further bounces when each keeps the same share.
    float further = 1 / (1 - s.lights.cavity * fminf(luminance(x.m.diffuse), 0.8f));
    return openLight(s, x.m, x.p, x.n, -dir) * further + (x.m.diffuse + x.m.specular * 0.3f) * ambientAt(s, x.p);
}

// Corners of a tetrahedron: sample k of a pixel looks this way off the mirrored direction. The same for all pixels, because
// dice would leave grain on metal alone, by which a net can tell it without knowing what metal looks like.
HD Vec mirrorOffset(int k) {
    return vec((k & 1) ? 0.577f : -0.577f, (k & 2) ? -0.577f : 0.577f, ((k ^ (k >> 1)) & 1) ? -0.577f : 0.577f);
}

HD Vec quickLight(const Scene &s, Vec eye, Vec dir, Hit hit, float footprint, int sample) {
    if (hit.part == kNothing) return behind(s, dir);
    // Normals over half a pixel: finer relief would only sparkle at one sample a pixel.
    Point x = shadingPoint(s, eye, dir, hit, 0.5f * footprint, true);
    // Glints of rough wet ground are smaller than a pixel: spread them, or single pixels burn out.
    if (luminance(x.m.specular) < 0.15f) x.m.rough = fmaxf(x.m.rough, clampf(0.2f + 4 * footprint * hit.t, 0.2f, 0.4f));
    Vec from = x.p + x.n * (0.004f + 0.3f * footprint * hit.t), v = -dir;
    Vec light = shadowedLight(s, x.m, from, x.n, v), ambient = ambientAt(s, x.p);
    // Two fixed directions stand for the whole hemisphere: smooth, and they see cracks and corners as dark.
    Vec a, b;
    frameAround(x.n, &a, &b);
    Vec around = (glimpse(s, from, normalize(x.n + a * 0.8f), 20) + glimpse(s, from, normalize(x.n - a * 0.6f + b * 0.5f), 20)) * 0.5f;
    light = light + x.m.diffuse * (around * s.lights.bounce + ambient);
    Vec f = fresnel(x.m.specular, fmaxf(dot(x.n, v), 0.0f)) * (1 - 0.5f * x.m.rough);
    float sharp = 1 - smoothstep(0.25f, 0.7f, x.m.rough);
    Vec mirrored = around;
    if (luminance(f) > 0.08f && sharp > 0) {
        float spread = 0.8f * x.m.rough * x.m.rough;
        Vec r = normalize(reflect(dir, x.n) + mirrorOffset(sample) * spread);
        if (dot(r, x.n) > 0) mirrored = lerp(around, glimpse(s, from, r, 32), sharp);
    }
    return light + f * (mirrored * s.lights.bounce + ambient);
}

HD Vec cosineDirection(Vec n, Random *rnd) { return normalize(n + rnd->direction() * 0.999f); }

// One lamp, chosen at random and jittered over its face, with a hard shadow.
HD Vec oneLamp(const Scene &s, const Point &x, Vec from, Vec v, Random *rnd) {
    int i = rnd->below(s.lights.count);
    Vec l;
    float e = lampStrength(s, i, x.p, &l) * float(s.lights.count);
    Vec light = answer(x.m, x.n, l, v) * e;
    if (luminance(light) < 1e-7f) return grey(0);
    Vec target = lampPosition(s, i) + rnd->direction() * s.lights.radius;
    return light * s.lights.colour * visibility(s, from, target, 60.0f, 64);
}

// Next direction of the path and the share of light it carries.
HD Vec scatter(const Point &x, Vec dir, Random *rnd, Vec *weight) {
    float mirror = luminance(fresnel(x.m.specular, fmaxf(-dot(dir, x.n), 0.0f)));
    float choose = clampf(mirror / (mirror + luminance(x.m.diffuse) + 1e-4f), 0.1f, 0.9f);
    if (rnd->unit() > choose) {
        *weight = *weight * x.m.diffuse * (1 / (1 - choose));
        return cosineDirection(x.n, rnd);
    }
    float a = x.m.rough * x.m.rough, u = rnd->unit(), phi = 2 * kPi * rnd->unit();
    float cosine = sqrtf((1 - u) / (1 + (a * a - 1) * u)), sine = sqrtf(fmaxf(0.0f, 1 - cosine * cosine));
    Vec t, b;
    frameAround(x.n, &t, &b);
    Vec h = normalize(t * (sine * cosf(phi)) + b * (sine * sinf(phi)) + x.n * cosine);
    Vec out = reflect(dir, h);
    if (dot(out, x.n) <= 0.01f) *weight = grey(0);
    *weight = *weight * fresnel(x.m.specular, fmaxf(-dot(dir, h), 0.0f)) * (1 / choose);
    return out;
}

HD Vec pathLight(const Scene &s, Vec eye, Vec dir, float footprint, Random *rnd) {
    Vec light = grey(0), weight = grey(1);
    for (int depth = 0; depth < 4; depth++) {
        float fine = depth == 0 ? footprint : 0.01f;
        Hit hit = trace(s, eye, dir, 0.01f, rayReach(s), 0.15f * fine, depth == 0 ? 160 : 64);
        if (hit.part == kNothing) return light + weight * (depth == 0 ? behind(s, dir) : openAir(s, dir));
        Point x = shadingPoint(s, eye, dir, hit, 0.3f * fine, depth == 0);
        Vec from = x.p + x.n * (0.003f + 0.2f * fine * hit.t);
        // After the first bounce mirrors are blurred and bright paths capped: they would be noise, not picture.
        if (depth > 0) x.m.rough = fmaxf(x.m.rough, 0.45f);
        Vec here = oneLamp(s, x, from, -dir, rnd) + (x.m.diffuse + x.m.specular * 0.3f) * ambientAt(s, x.p);
        if (depth > 0) here = here * fminf(1.0f, 0.4f / (luminance(here) + 1e-6f));
        light = light + weight * here;
        dir = scatter(x, dir, rnd, &weight);
        eye = from;
        if (luminance(weight) < 0.01f) break;
    }
    return light;
}
