// What can be seen from where.
#pragma once
#include "camera.h"

HD bool isFree(const Scene &s, Vec p, float room) {
    int part;
    return sceneDistance(s, p, &part) > room;
}

// How many of six points spread over head and fillet the eye sees.
HD int seenPoints(const Scene &s, int valve, Vec eye) {
    const Valve &v = s.valves[valve];
    int seen = 0;
    for (int i = 0; i < 6; i++) {
        float rho = v.headRadius * (i < 4 ? 0.75f : 0.4f), a = 1.5707963f * float(i) + 0.4f;
        seen += sees(s, eye, fromValve(s, valve, vec(rho * cosf(a), rho * sinf(a), profileHeight(v, rho) + v.deposit.maxThickness)));
    }
    return seen;
}
