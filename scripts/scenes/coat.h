// Even coats: a layer of one thickness that covers most of the valve and ends at edges: chips, the shoulder that the guide leaves
// on the stem, the seat face. Local frame of the valve.
#pragma once
#include "noise.h"
#include "valve.h"

// Whole cells broken out of the coat along ragged lines.
HD float unchipped(const Coat &c, Vec q, uint32_t seed) {
    Vec at = q * c.chipFreq;
    float ragged = 0.5f * latticeNoise(at * 3.0f, seed + 1, false);
    Cells chip = cells(at + vec(ragged, -ragged, ragged), seed);
    return unitOf(chip.id * 5u) < c.chips ? 1 - smoothstep(0.02f, 0.05f, chip.second - chip.nearest) : 1;
}

// Share of the coat's thickness between the foot of the tulip and the shoulder on the stem.
HD float betweenEdges(const Valve &v, const Coat &c, Vec q, uint32_t seed) {
    float wobble = 2 * c.edge * (latticeNoise(q * 2.5f, seed, false) - 0.5f);
    float rho = sqrtf(q.x * q.x + q.y * q.y), inwards = tulipFoot(v) - rho;
    float foot = c.foot > 0 ? smoothstep(c.foot, c.foot + c.edge, inwards + wobble) : 1;
    float top = v.seatFace + v.tulipHeight + c.collar;
    return foot * lerp(1.0f, c.above, smoothstep(top, top + c.edge, q.z + wobble));
}

HD_ONCE float coatThickness(const Valve &v, Vec q) {
    const Coat &c = v.deposit.coat;
    uint32_t seed = v.deposit.seed + 301;
    if (c.thickness <= 0) return 0;
    float share = betweenEdges(v, c, q, seed);
    if (share > 0 && c.cover < 1) share *= shareRamp(uniformShare(noiseScore(q * c.freq, seed + 11, v.deposit.basis, 4)), c.cover, c.soft);
    if (share > 0 && c.chips > 0) share *= unchipped(c, q, seed + 21);
    return share > 0 ? share * c.thickness * (1 + c.waver * (2 * latticeNoise(q * 0.9f, seed + 31, false) - 1)) : 0;
}
