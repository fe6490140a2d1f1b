// The port: throat bowl, runner, flange, seat rings, guides and their bosses, as signed distances in the world frame.
#pragma once
#include "mouth.h"
#include "valve.h"

enum WallRelief { kAsCast, kSandCast, kRibbed, kSmooth, kPitted };  // pitted is held back for family 1

HD float tubeDistance(const Tube &t, Vec p) {
    Vec q = p - t.start;
    float share = clampf(dot(q, t.along) * t.inverseLength2, 0, 1);
    Vec off = q - t.along * share;
    off.y *= t.flatten;
    return length(off) - (t.radius + t.widening * share);
}

// Distance to the wall from inside the hollow, negative inside the hollow.
HD float tubesDistance(const Port &port, Vec p) {
    float d = tubeDistance(port.tubes[0], p);
    for (int i = 1; i < port.tubeCount; i++) d = smoothMin(d, tubeDistance(port.tubes[i], p), port.blend);
    return d;
}

// The same of a port that is seen through its mouth; q: p in the runner's coordinates.
HD float mouthHollow(const Scene &s, Vec p, Vec q) {
    // Only the throats reach down to the seats, or the chamber would show beside them.
    float d = smoothMax(runnerDistance(s.mouth, q), 0.55f - p.z, 0.5f);
    return q.x < s.mouth.tubesUpTo ? smoothMin(d, tubesDistance(s.port, p), s.port.blend) : d;
}

HD float hollowDistance(const Scene &s, Vec p) {
    return s.view == kMouth ? mouthHollow(s, p, inRunner(s.mouth, p)) : tubesDistance(s.port, p);
}

// A valve may lean, with its seat and guide: p turned back into the frame in which it stands upright, and the other way.
HD Vec upright(const Scene &s, int i, Vec p) {
    Vec q = p - s.seats[i].centre;
    return s.seats[i].centre + vec(q.x, s.leanCos[i] * q.y + s.leanSin[i] * q.z, s.leanCos[i] * q.z - s.leanSin[i] * q.y);
}

HD Vec leaning(const Scene &s, int i, Vec p) {
    Vec q = p - s.seats[i].centre;
    return s.seats[i].centre + vec(q.x, s.leanCos[i] * q.y - s.leanSin[i] * q.z, s.leanCos[i] * q.z + s.leanSin[i] * q.y);
}

HD float bossDistance(const Guide &g, Vec p) {
    Vec q = p - g.axis;
    float z = q.z - g.bossBottom;
    float side = sqrtf(q.x * q.x / (g.bossStretch * g.bossStretch) + q.y * q.y);
    float radial = (side - g.bossRadius - g.bossTaper * clampf(z, 0, 6)) * 0.85f;
    return smoothMax(radial, -z, g.bossRound);
}

HD float wallRelief(const Port &port, Vec p) {
    Vec f = p * port.reliefFreq;
    float r = 0;
    switch (port.relief) {
    case kAsCast: r = fractal(f, port.seed, kValueNoise, 3, 0.5f) - 0.5f; break;
    case kSandCast: r = fractal(f * 1.8f, port.seed, kValueNoise, 3, 0.75f) - 0.5f; break;
    case kRibbed: r = 0.5f * sinf(6.2831853f * (dot(p, normalize(port.tubes[port.tubeCount - 1].along)) * port.reliefFreq * 0.7f)); break;
    case kPitted: r = 0.3f - fmaxf(0.0f, 0.45f - cells(f, port.seed).nearest) * 2; break;
    default: break;
    }
    float grime = port.wall.crust > 0 ? port.wall.crust * (fractal(p * 2.3f, port.seed + 9, kBillowNoise, 3, 0.6f) - 0.3f) : 0;
    return port.reliefAmp * r + grime + port.lumpAmp * (latticeNoise(p * port.lumpFreq, port.seed + 3, false) - 0.5f);
}

HD float boltDistance(const Port &port, Vec p) {
    Vec q = p - port.mouth;
    float out = dot(q, port.mouthNormal);
    Vec flat = q - port.mouthNormal * out;
    float hole = length(vec(flat.x, fabsf(flat.y) - port.boltOffset, flat.z)) - 0.55f;
    return fmaxf(hole, -out - 1.5f);
}

// The holes in the roof in which guides without a boss sit.
HD float withRecesses(const Scene &s, Vec p, float d) {
    for (int i = 0; i < (s.valveCount == 2 ? 2 : 1); i++) {
        const Guide &g = s.guides[i];
        if (g.recess <= 0) continue;
        Vec q = upright(s, i, p) - g.axis;
        d = fmaxf(d, -fmaxf(sqrtf(q.x * q.x + q.y * q.y) - g.recess, fmaxf(q.z - g.bottom - 0.8f, 1 - q.z)));
    }
    return d;
}

// The dividing plate is smoother than the cast walls, but crust grows on it.
HD float withPlate(const Scene &s, Vec p, Vec q, float d) {
    if (s.mouth.plate <= 0) return d;
    float plate = plateDistance(s.mouth, q), crust = 0.3f * s.mouth.plate + 0.3f * s.port.wall.crust;
    if (plate > crust + 0.1f) return fminf(d, plate - crust);
    return fminf(d, plate + 2 * crust * (fractal(p * 3.7f, s.port.seed + 11, kValueNoise, 2, 0.6f) - 0.5f));
}

HD_ONCE float wallDistance(const Scene &s, Vec p) {
    const Port &port = s.port;
    bool mouth = s.view == kMouth;
    float out = dot(p - port.mouth, port.mouthNormal);
    if (mouth && out > s.mouth.highest + 0.3f) return out - s.mouth.highest;
    Vec q = mouth ? inRunner(s.mouth, p) : p;
    float d = -(mouth ? mouthHollow(s, p, q) : tubesDistance(port, p));
    for (int i = 0; i < 2; i++)
        if (s.guides[i].boss) d = smoothMin(d, bossDistance(s.guides[i], upright(s, i, p)), s.guides[i].bossRound + 0.25f);
    if (mouth && d < 1.5f && out < -1) d = withRecesses(s, p, d);
    float bound = 0.5f * (port.reliefAmp + port.lumpAmp) + 0.7f * port.wall.crust;
    if (d < bound + 0.15f && d > -0.6f)
        d += wallRelief(port, p);
    else
        d -= bound;
    if (mouth) d = withFlange(s.mouth, q, withPlate(s, p, q, d));
    else if (out > -2.5f) d = fmaxf(smoothMax(d, out, 0.12f), -boltDistance(port, p));
    return fmaxf(d, -0.45f - p.z) * 0.9f;
}

// Inserted ring: a throat bore with cut angles above the 45 degree face that the valve closes on.
HD float seatDistance(const Seat &seat, Vec p) {
    Vec q = p - seat.centre;
    float rho = sqrtf(q.x * q.x + q.y * q.y);
    float bore = seat.throatRadius - rho;
    float face = (seat.throatRadius + 0.25f - q.z - rho) * 0.70710678f;
    float top = (seat.throatRadius + seat.cut * (q.z - seat.height + 0.3f) - rho) / sqrtf(1 + seat.cut * seat.cut);
    float inner = fmaxf(fmaxf(bore, face), top);
    return fmaxf(fmaxf(inner, q.z - seat.height), fmaxf(rho - seat.outer, -0.45f - q.z));
}

HD float guideDistance(const Guide &g, Vec p) {
    Vec q = p - g.axis;
    float rho = sqrtf(q.x * q.x + q.y * q.y);
    return smoothMax(rho - g.radius, g.bottom - q.z, 0.08f);
}
