// From a recipe to a whole scene.
#pragma once
#include "sample_clutter.h"
#include "sample_deposit.h"
#include "sample_litter.h"
#include "sample_mouth.h"
#include "sample_soot.h"
#include "sample_valve.h"
#include "sample_view.h"

HD int drawView(const Recipe &recipe, Random *r) {
    if (recipe.view >= 0) return recipe.view;
    float u = r->unit();
    if (recipe.family == kDemo) return u < 0.85f ? kBore : kFlange;
    float none = recipe.family == kTraining ? 0.14f : 0.1f;  // everyday views, which are mixed in, always show a valve
    if (u < none) return u < none / 2 ? kClutterView : kAway;
    u -= none;
    return u < 0.10f ? kFlange : u < 0.16f ? kInHand : u < 0.46f ? kMouth : kBore;
}

HD void drawValves(Scene *s, Recipe recipe, Random *port) {
    Random metal(recipe.metal);
    Valve &v = s->valves[0];
    drawShape(&v, port);
    if (s->view == kMouth) drawSlimHead(&v, port);
    v.metal = drawMetal(recipe, &metal);
    if (recipe.family != kDemo) age(&v.metal, recipe.metal);
    float lift = port->chance(0.75f) ? 0 : port->range(0, 0.7f);
    v.base = vec(0, 0, -lift);
    // Whoever takes the manifold off mostly does so because of crust. Far down a dark port little else tells.
    recipe.laden = s->view == kMouth && !recipe.blasted && recipe.index < 0 && port->chance(0.5f);
    v.deposit = drawDeposit(recipe, recipe.deposit);
    if (v.deposit.method == kHand || v.deposit.method == kWhip) v.metal.scratches = fmaxf(v.metal.scratches, 0.6f * v.deposit.cleaning);
    s->valves[1] = v;
    float apart = (port->chance(0.5f) ? 1.0f : -1.0f) * v.headRadius * port->range(2.2f, 2.6f);
    s->valves[1].base = vec(port->range(-0.5f, 0.5f), apart, port->chance(0.8f) ? 0 : -port->range(0, 0.7f));
    Recipe other = recipe;
    other.index = -1;
    s->valves[1].deposit = drawDeposit(other, mix64(recipe.deposit + 77));
    if (s->family != kDemo) shareLook(v.deposit, &s->valves[1].deposit);
    bool second = recipe.second >= 0 ? recipe.second == 1 : port->chance(s->view == kMouth ? 0.8f : 0.33f);
    // A port whose valve is out is rare. With 3 % of them, no crown in view, a net doubted valves that mirror a dark port; more of
    // them take as many dark heads without a stem in view (drawGuide).
    bool empty = s->family != kDemo && port->chance(s->view == kAway ? 0.5f : 0.06f);
    s->valveCount = empty ? 0 : second ? 2 : 1;
    if (empty && (s->view == kMouth || port->chance(0.85f))) drawCrown(s, port);  // no daylight from below at the end of a port
}

// What only leaning valves and those out of an engine change.
HD void standUpright(Scene *s) {
    for (int i = 0; i < 2; i++) {
        Valve &v = s->valves[i];
        s->leanCos[i] = 1, s->leanSin[i] = 0;
        v.faceFrom = v.guideFrom = v.stemTop = 1e9f;
    }
    s->port.soot.share = 0;
}

// Everything but the place of the camera, which is chosen among tryPlace's tries and settled by lookFrom.
HD void drawScene(const Recipe &recipe, Scene *s) {
    Random port(recipe.port), pose(recipe.pose), light(recipe.light);
    s->family = recipe.family;
    s->calm = recipe.calm;
    s->dusky = recipe.dusky;
    s->view = drawView(recipe, &pose);
    s->seed = uint32_t(recipe.port);
    s->target = kByProminence;
    const float aspects[4] = {0.75f, 0.75f, 0.5625f, 1};
    s->aspect = aspects[mix64(recipe.pose + 9) % 4];
    s->solidCount = 0;
    s->tool.count = 0;
    s->tool.ribs = 0;
    drawLitter(s, recipe.port);
    drawLens(&s->camera, &pose);
    drawLamps(s, &light);
    s->mouth.inside = s->view == kMouth && pose.chance(0.2f);
    if (s->view == kInHand || (s->view == kMouth && !s->mouth.inside)) drawOuterLamps(s, &light);
    if (s->view == kClutterView) {
        s->valveCount = 0;
        drawClutter(s, &port);
        return;
    }
    drawValves(s, recipe, &port);
    standUpright(s);
    if (s->view == kInHand) {
        drawHand(s, &port);
        return;
    }
    if (s->view == kMouth)
        drawMouth(s, &port);
    else
        drawHollow(s, s->view == kFlange, &port);
    for (int i = 0; i < 2; i++) {
        drawSeat(s, i, &port);
        drawGuide(s, i, recipe.family, &port);
        if (s->view == kMouth) clearGuide(&s->guides[i], roofHeight(*s, s->guides[i].axis), &port);
        // No crust within the guide, or thick crust would come out through it.
        if (s->family != kDemo) s->valves[i].guideFrom = s->guides[i].bottom + 0.1f - s->valves[i].base.z;
    }
    if (s->valveCount < 2) s->guides[1].boss = false;
    drawWalls(s, &port);
    if (s->family != kDemo) drawSoot(s, &port);
}
