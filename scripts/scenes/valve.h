// The bare valve: a surface of revolution about z. Local frame: seat plane z = 0, stem upwards, stem radius 0.5.
#pragma once
#include "scene.h"

constexpr float kStemRadius = 0.5f;
constexpr float kHeadLimit = 1.3f * kStemRadius;  // where the stem ends and the head begins

HD float tulipFoot(const Valve &v) { return v.headRadius - v.seatFace; }

HD float profileRadius(const Valve &v, float z) {
    if (z < 0) return v.headRadius;
    if (z < v.seatFace) return v.headRadius - z;
    float t = (z - v.seatFace) / v.tulipHeight;
    if (t >= 1) return kStemRadius;
    return kStemRadius + (tulipFoot(v) - kStemRadius) * powPositive(1 - t, v.tulipPower);
}

// Height of the tulip above a given radius; beyond its foot the tangent carries on.
HD float profileHeight(const Valve &v, float rho) {
    float span = tulipFoot(v) - kStemRadius, share = (rho - kStemRadius) / span;
    if (share >= 1) return v.seatFace - (share - 1) * v.tulipHeight / v.tulipPower;
    return v.seatFace + v.tulipHeight * (1 - powPositive(share, 1 / v.tulipPower));
}

// The free space beside the tulip is convex, so the chord between the radial and the axial foot points never lies
// behind the surface: its distance is a safe step and exact at the surface.
HD float tulipDistance(const Valve &v, float rho, float z) {
    float dx = rho - (z < v.seatFace ? tulipFoot(v) : profileRadius(v, z));
    if (rho <= kStemRadius) return dx;
    float dz = z - profileHeight(v, rho);
    float d = fabsf(dx * dz) / sqrtf(dx * dx + dz * dz + 1e-12f);
    return dx < 0 ? -d : d;
}

HD float bareValveDistance(const Valve &v, Vec q) {
    float rho = sqrtf(q.x * q.x + q.y * q.y);
    float rim = fmaxf(fmaxf((rho + q.z - v.headRadius) * 0.70710678f, rho - v.headRadius), fmaxf(q.z - v.seatFace, -q.z - 0.4f));
    return fminf(fmaxf(tulipDistance(v, rho, q.z), -q.z), rim);
}

// Position along the meridian, 0 at the foot of the tulip, 1 at the top of the fillet, beyond 1 on the stem.
HD float meridian(const Valve &v, Vec q) {
    float rho = sqrtf(q.x * q.x + q.y * q.y);
    float radial = (tulipFoot(v) - rho) / (tulipFoot(v) - kStemRadius), axial = (q.z - v.seatFace) / v.tulipHeight;
    return axial > 1 ? axial : clampf(0.5f * (radial + axial), -0.2f, 1.0f);
}

// Coordinates for fields that run along or around the valve instead of equally in all directions.
HD Vec streakPoint(const Valve &v, Vec q, float along, float around) {
    float rho = sqrtf(q.x * q.x + q.y * q.y) + 1e-6f;
    return vec(q.x / rho * around, q.y / rho * around, meridian(v, q) * along);
}
