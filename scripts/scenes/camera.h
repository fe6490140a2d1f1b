// Pixel to ray and back, with barrel distortion.
#pragma once
#include "trace.h"

// Unit ray through image position (x, y) in pixels, origin at the top left corner.
HD Vec cameraRay(const Camera &c, float x, float y, int width, int height) {
    float half = 0.5f * float(width);
    float u = c.window.x + c.window.half * (x - half) / half, v = c.window.y + c.window.half * (y - 0.5f * float(height)) / half;
    float bend = (1 + c.distortion * (u * u + v * v)) * c.tanHalf;
    return normalize(c.forward + c.right * (u * bend) - c.up * (v * bend));
}

// Where point p falls in the frame, in pixels; false behind the camera.
HD bool project(const Camera &c, Vec p, int width, int height, float *x, float *y) {
    Vec q = p - c.eye;
    float depth = dot(q, c.forward);
    if (depth < 0.05f) return false;
    float u = dot(q, c.right) / (depth * c.tanHalf), v = -dot(q, c.up) / (depth * c.tanHalf);
    float r = sqrtf(u * u + v * v), flat = r;
    for (int i = 0; i < 8; i++) flat = r / (1 + c.distortion * flat * flat);
    float shrink = r > 1e-6f ? flat / r : 1;
    float half = 0.5f * float(width);
    *x = half + half * (u * shrink - c.window.x) / c.window.half;
    *y = 0.5f * float(height) + half * (v * shrink - c.window.y) / c.window.half;
    return true;
}

// Turns the camera so that `target` lies (u, v) half-widths right of and below the middle, rolled about the axis.
HD void aim(Camera *c, Vec target, float u, float v, float roll) {
    Vec to = normalize(target - c->eye), a, b;
    frameAround(to, &a, &b);
    Vec right = a * cosf(roll) + b * sinf(roll), up = cross(right, to);
    c->forward = normalize(to - right * (u * c->tanHalf) + up * (v * c->tanHalf));
    c->right = normalize(right - c->forward * dot(right, c->forward));
    c->up = cross(c->right, c->forward);
}

// How far a ray from the lens can go: an open port is looked into from far away.
HD float rayReach(const Scene &s) { return s.view == kMouth ? 80.0f : 40.0f; }

// What the ray from the lens hits first. Before an open port there is nothing but air between the lens and the flange.
HD Hit firstHit(const Scene &s, Vec dir, float footprint) {
    bool outside = s.view == kMouth && !s.mouth.inside && s.tool.count == 0;
    float from = outside ? fmaxf(aheadOfMouth(s, s.camera.eye, dir), 0.02f) : 0.02f;
    return trace(s, s.camera.eye, dir, from, rayReach(s), 0.25f * footprint, 72);
}
