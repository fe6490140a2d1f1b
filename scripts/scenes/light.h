// Light sources at the lens and how a surface answers to them (GGX with Schlick's Fresnel, plus a Lambert part).
#pragma once
#include "finish.h"

HD Vec fresnel(Vec specular, float cosine) {
    float x = clampf(1 - cosine, 0, 1), x5 = x * x * x * x * x;
    return specular + (grey(1) - specular) * x5;
}

HD float facets(float rough, float nh) {
    float a2 = rough * rough * rough * rough, k = nh * nh * (a2 - 1) + 1;
    return a2 / (kPi * k * k + 1e-9f);
}

// Smith's masking divided by 4 nl nv, height-correlated approximation.
HD float masking(float rough, float nl, float nv) {
    float a = rough * rough;
    return 0.5f / (lerp(2 * nl * nv, nl + nv, a) + 1e-4f);
}

// Light from direction l that leaves towards v, cosine included.
HD Vec answer(const Material &m, Vec n, Vec l, Vec v) {
    float nl = dot(n, l);
    if (nl <= 0) return grey(0);
    float nv = fmaxf(dot(n, v), 0.02f);
    Vec h = normalize(l + v);
    // Below this roughness a small lamp's glint would be smaller than a pixel and more than any sensor holds.
    float rough = fmaxf(m.rough, 0.07f);
    float glint = fminf(facets(rough, fmaxf(dot(n, h), 0.0f)) * masking(rough, nl, nv), 60.0f);
    return (m.diffuse * (1 / kPi) + fresnel(m.specular, dot(h, v)) * glint) * nl;
}

HD Vec lampPosition(const Scene &s, int i) {
    const Camera &c = s.camera;
    Vec o = s.lights.position[i];
    return c.eye + c.right * o.x + c.up * o.y + c.forward * o.z;
}

// Irradiance factor of lamp i at p (inverse square and beam), and the unit direction towards it.
HD float lampStrength(const Scene &s, int i, Vec p, Vec *l) {
    Vec way = lampPosition(s, i) - p;
    float r2 = dot(way, way);
    *l = way * (1 / sqrtf(r2 + 1e-8f));
    float beam = powPositive(fmaxf(-dot(*l, s.camera.forward), 0.05f), s.lights.beam);
    return s.lights.power[i] * beam / (r2 + 0.02f);
}

// Light straight from all lamps, without shadows.
HD_ONCE Vec openLight(const Scene &s, const Material &m, Vec p, Vec n, Vec v) {
    Vec sum = grey(0), l;
    for (int i = 0; i < s.lights.count; i++) {
        float e = lampStrength(s, i, p, &l);
        sum = sum + answer(m, n, l, v) * e;
    }
    return sum * s.lights.colour;
}

// The same with soft shadows, one ray for lamps on a small ring, which throw nearly the same shadow, and two for others.
HD Vec shadowedLight(const Scene &s, const Material &m, Vec p, Vec n, Vec v) {
    Vec sum = grey(0), l;
    int groups = s.lights.count > 1 && s.lights.ring > 0.3f ? 2 : 1;
    for (int g = 0; g < groups; g++) {
        Vec part = grey(0), centre = grey(0);
        float weight = 0;
        for (int i = g; i < s.lights.count; i += groups) {
            float e = lampStrength(s, i, p, &l);
            part = part + answer(m, n, l, v) * e;
            centre = centre + lampPosition(s, i) * s.lights.power[i];
            weight += s.lights.power[i];
        }
        if (luminance(part) < 1e-6f) continue;
        sum = sum + part * visibility(s, p, centre * (1 / weight), 14.0f, 28);
    }
    return sum * s.lights.colour;
}

HD Vec openAir(const Scene &s, Vec dir) {
    if (s.view == kInHand) {  // a room: windows and lamps, dark furniture
        float bright = fractal(dir * 2.2f, s.seed, kValueNoise, 2, 0.5f);
        return s.lights.sky * (0.25f + 0.4f * bright + 2.5f * smoothstep(0.6f, 0.7f, bright));
    }
    return s.lights.sky * (0.6f + 0.4f * dir.y + 0.3f * fractal(dir * 2.5f, s.seed, kValueNoise, 2, 0.5f));
}

// What the camera sees behind a scene. Behind a valve out of its engine it is one even colour, by which an ordinary picture
// can be put there.
HD Vec behind(const Scene &s, Vec dir) { return s.view == kInHand ? s.lights.sky : openAir(s, dir); }

// Fill light at p: daylight comes no deeper into an open port than its width.
HD Vec ambientAt(const Scene &s, Vec p) {
    if (s.view != kMouth) return s.lights.ambient;
    float depth = fmaxf(-dot(p - s.port.mouth, s.port.mouthNormal) / s.mouth.halfHigh[1], 0.0f);
    return s.lights.ambient * (1 / (1 + 2 * depth * depth));
}
