// Draws the flange around an open port: what is machined, what seals, what is left on it.
#pragma once
#include "mouth.h"
#include "recipe.h"

HD void drawGroove(Mouth *m, int family, Random *r) {
    const Vec seals[6] = {{0.45f, 0.1f, 0.03f}, {0.02f, 0.02f, 0.022f}, {0.03f, 0.1f, 0.35f},
                          {0.4f, 0.04f, 0.03f}, {0.05f, 0.25f, 0.08f}, {0.3f, 0.3f, 0.28f}};
    m->grooveHalf = r->chance(0.45f) ? r->range(0.18f, 0.5f) : 0;
    m->grooveAt = m->grooveHalf + r->range(0.15f, 1.6f);
    m->grooveDepth = r->range(0.15f, 0.4f);
    m->seal = r->chance(0.75f) ? m->grooveDepth + r->range(-0.1f, 0.2f) : 0;
    m->sealColour = (family == kHeldBack ? seals[3 + r->below(3)] : seals[r->below(4)]) * r->range(0.5f, 1.5f);
}

HD void drawBolts(Mouth *m, Random *r) {
    m->boltCount = r->below(5);
    float side = r->chance(0.5f) ? 1.0f : -1.0f;
    for (int i = 0; i < m->boltCount; i++) {
        m->boltRadius[i] = r->range(0.4f, 0.75f);
        m->boltHeight[i] = i < 2 || r->chance(0.6f) ? -r->range(0.8f, 2) : r->range(0.2f, 1.2f);
        float away = m->boltRadius[i] + r->range(0.7f, 2), turn = i < 2 ? r->range(-0.5f, 0.5f) : r->range(0.7f, 2.4f);
        float v = cosf(turn) * (i & 1 ? -side : side), w = sinf(turn) * (i & 1 ? -side : side);
        float reach = 1 / sqrtf(v * v / (m->halfWide[1] * m->halfWide[1]) + w * w / (m->halfHigh[1] * m->halfHigh[1]));
        m->boltV[i] = v * (reach + away), m->boltW[i] = w * (reach + away);
    }
}

HD void drawFlange(Scene *s, Random *r) {
    Mouth &m = s->mouth;
    m.rim = r->chance(0.6f) ? 0 : r->range(0.1f, 0.5f);
    m.rimWidth = r->range(0.3f, 0.9f);
    m.counter = r->chance(0.35f) ? r->range(0.1f, 0.4f) : 0;
    m.counterDepth = r->range(0.3f, 2);
    m.edgeRound = r->logRange(0.03f, 0.4f);
    drawGroove(&m, s->family, r);
    drawBolts(&m, r);
    m.pad = r->chance(0.3f) ? r->range(0.1f, 0.6f) : 0;
    m.padWide = m.halfWide[1] + r->range(0.6f, 2.5f), m.padHigh = m.halfHigh[1] + r->range(0.4f, 1.5f), m.padAt = r->range(-0.4f, 0.4f);
    m.drop = r->chance(0.6f) ? r->range(0.6f, 4) : 0;
    m.castRough = r->range(0.03f, 0.25f);
    m.dropWide = m.halfWide[1] + r->range(1.2f, 4), m.dropHigh = m.halfHigh[1] + r->range(0.9f, 3);
    m.highest = 0.05f + fmaxf(m.rim, 0) + fmaxf(m.seal - m.grooveDepth, 0);
    for (int i = 0; i < m.boltCount; i++) m.highest = fmaxf(m.highest, m.boltHeight[i]);
    const Vec stains[5] = {
        {0.35f, 0.17f, 0.05f}, {0.3f, 0.22f, 0.09f}, {0.06f, 0.04f, 0.03f}, {0.025f, 0.025f, 0.027f}, {0.16f, 0.15f, 0.13f}};
    m.stain = r->chance(0.2f) ? 0 : r->range(0.3f, 1);
    m.stainA = stains[r->below(5)] * r->range(0.6f, 1.4f), m.stainB = stains[r->below(5)] * r->range(0.6f, 1.4f);
    m.stainSoft = r->logRange(0.03f, 0.3f);
    m.specks = r->chance(0.35f) ? 0 : r->range(0.1f, 0.9f);
    m.stainFreq = r->logRange(0.12f, 1.2f);
    m.milling = r->chance(0.4f) ? 0 : r->range(0.2f, 1);
    m.millingFreq = r->logRange(3, 25);
    const Vec pastes[4] = {{0.02f, 0.02f, 0.02f}, {0.25f, 0.25f, 0.26f}, {0.05f, 0.12f, 0.35f}, {0.3f, 0.2f, 0.1f}};
    m.residue = pastes[r->below(4)];
    m.residueShare = r->chance(0.6f) ? 0 : r->range(0.3f, 1);
    m.residueFrom = r->range(0.1f, 1.2f), m.residueTo = m.residueFrom + r->range(0.3f, 2);
    m.sootReach = r->logRange(0.05f, 1.5f);
}
