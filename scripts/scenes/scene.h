// One scene as plain numbers. Lengths are in stem diameters (a 6 mm stem: 1 = 6 mm), angles in radians, colours linear.
// World frame: the principal valve's axis is +z, its seat plane z = 0, the runner bends towards +x.
#pragma once
#include "vec.h"

enum Part { kNothing, kWall, kSeat, kValve1, kValve2, kGuide, kClutter, kTool };
enum View { kBore, kFlange, kAway, kClutterView, kMouth, kInHand };
enum Method { kNone, kBlast, kHand, kWhip, kSoak };

struct Crust {
    int relief;               // shape of the surface, see relief.h
    float reliefAmp;          // relief of thick crust as a share of its thickness
    float thinRelief;         // the same of thin crust
    float reliefFreq;         // cells per stem diameter
    float fineness;           // how many times finer the relief of thin crust is
    Vec colourA, colourB;     // diffuse albedo, mottled between the two
    float rough, wetRough;    // GGX roughness dry and wet
    float wetShare, wetFreq;  // share of the crust that is wet
    float grain, grainFreq;   // fine mottling: strength and grains per stem diameter
    float glints, glintFreq;  // share of grains whose facet throws the lamp back; grains per stem diameter
};

struct Coat {  // an even layer on the metal, under the crust, that ends at edges
    float thickness, waver;   // stem diameters, 0: none; slow change of it, relative
    float cover, freq, soft;  // share covered; patches per stem diameter; width of their edge in share units
    float chips, chipFreq;    // share broken out; chips per stem diameter
    float collar, above;      // this high on the stem it ends, leaving a share of its thickness above
    float foot, edge;         // starts this far in from the foot of the tulip; width of collar and foot
    float fracture;           // brightness of its broken edges against its face
};

struct Film {
    float cover, soft, freq, stretch;
    float fringe;   // how far a film reaches beyond the crust, in share units; 0: not at all
    float opacity;  // 0.15 a hint, 0.95 black lacquer
    Vec colour;
    float rough;
};

struct Deposit {
    uint32_t seed;
    int basis, octaves;
    float freq, streakAlong, streakAround;  // domain scale: plain, along the meridian, around the axis
    float cover, soft;                      // share with crust; width of its edge in share units
    float heavy, heavySoft, heavyMix;       // share of heavy crust; how independent it is of the crust's own field
    float mediumThickness, heavyThickness;  // stem diameters: the two plateaus
    float peak, rise;                       // instead of them, where peak > 0: crust that thickens from its edge on, peak * share^rise
    float side, sideAngle, fillet, stem, rim;
    float crumbs, crumbFreq, crumbHeight;
    int scrapes;         // lanes that a tool has left
    float scrapeDepth;   // share of the deposit that it took there
    float maxThickness;  // bound on every displacement, for sphere tracing
    int method;          // cleaning applied, see Method
    float cleaning;      // 0 nothing removed, 1 as thorough as the method gets
    Crust crust;
    Coat coat;
    Film film;
};

struct Metal {
    int kind;
    Vec specular, diffuse;
    float rough;
    float turning, turningFreq;  // strength and lines per stem diameter of lathe or grinding marks
    float mottle, mottleFreq;
    float grain, grainFreq;   // fine specks, as blasting and old oil leave them
    float waves, waveFreq;    // dents and ripples: lean of the normal, per stem diameter
    float brush;              // lean of the normal across the lathe or grinding marks
    float heat, heatStart, heatRange;  // oxide colours: strength, start and range in the colour order
    float scratches;
    float stain, stainFreq, stainStreak;  // blotches left by water and oil: strength, per stem diameter, drawn out around the axis
    Vec stainColour;
    float patina, patinaFreq;  // dull spots on bright metal, soft and down to the finest: strength, and the largest per stem diameter
    uint32_t seed;
};

struct Valve {
    Vec base;  // seat centre, lowered by the lift
    float headRadius, seatFace, tulipHeight, tulipPower;
    float faceFrom;            // radius from which the face is the seat's and no deposit holds; the back of the head ends here
    float guideFrom, stemTop;  // height from which the guide ran on the stem, and its upper end
    Deposit deposit;
    Metal metal;
};

struct Seat {
    Vec centre;
    float throatRadius, height, cut, outer;
};

struct Guide {
    Vec axis;  // a point on the axis at z = 0
    float bossBottom, bossRadius, bossTaper, bossStretch, bossRound;
    float bottom, radius;
    float recess;  // radius of the hole that it sits in, 0: none
    bool boss;
};

struct Tube {
    Vec start, along;
    float inverseLength2, radius, widening, flatten;
};

struct Surface {  // what the port walls, seats and guides are made of
    Vec colourA, colourB, grime;
    float specular, rough, mottleFreq, grimeShare, grimeFreq, wetShare, crust;
    uint32_t seed;
};

// What lies on walls besides their own grime. Glints are grains of coke or grit that catch the lamp.
struct Soot {
    float share, freq;     // of the wall, patches per stem diameter
    Vec colourA, colourB;
    float rough, grain;
    float glints, glintFreq, glintLevel;  // share of the grains that shine, grains per stem diameter, their albedo
};

// A port seen through its open mouth, in coordinates of its runner: u from the valves to the flange, v across (where two
// valves lie side by side), w towards the roof.
struct Mouth {
    Vec start, along, wide, high;
    float length, split;             // u of the flange; u below which the throats part
    int shape;                       // see mouth.h
    float halfWide[2], halfHigh[2];  // of the section, at the valves and at the flange
    float corner, flat;              // corner as a share of the half height; how much of a D is cut off
    float bendHigh, bendWide;        // the axis leaves the straight line by this * u (2 length - u)
    float tubesUpTo;                 // u above which the throats are out of reach
    float plate, plateAt, plateFrom, plateTo;  // half thickness of the dividing plate, 0: none; its w (v if upright); u of its ends
    bool upright;
    // The flange. Heights are towards the viewer, distances outwards from the edge of the mouth.
    float rim, rimWidth, edgeRound;
    float counter, counterDepth;         // widening of the port right behind the flange
    float grooveAt, grooveHalf, grooveDepth, seal;
    float pad, padWide, padHigh, padAt;  // depth, half sizes and v of a recess around the mouth
    float castRough;                     // relief of what is not machined
    float drop, dropWide, dropHigh;      // how far the casting lies behind the flange, and the flange's half sizes
    float boltV[4], boltW[4], boltRadius[4], boltHeight[4];  // height below 0: a hole, above: dowel or stud
    int boltCount;
    float highest;                       // no part of the flange stands higher
    Vec sealColour, stainA, stainB, residue;
    float stain, stainFreq, milling, millingFreq, residueShare, residueFrom, residueTo, sootReach, stainSoft, specks;
    bool inside;                         // the camera is in the port
};

struct Port {
    Tube tubes[5];
    int tubeCount;
    float blend;
    Vec mouth, mouthNormal;  // flange plane
    float boltOffset;
    int relief;
    float reliefAmp, reliefFreq, lumpAmp, lumpFreq;
    Surface wall, ring, flange;
    Vec guideSpecular, guideDiffuse;
    float guideRough, ringGrime;
    Soot soot;
    uint32_t seed;
};

struct Solid {
    int shape;  // 0 box 1 cylinder 2 sphere 3 ring 4 plane 5 lid with rim
    Vec centre, ax, ay, az, size;
    Surface surface;
    float pattern;  // 0 plain, else squares per unit
};

struct Window {  // part of the frame that the picture shows: middle and half its width, in half-widths of the frame
    float x, y, half;
};

struct Litter {  // what lies loose in the port and on the valve
    Vec up;                   // where it does not fall
    float grains, grainFreq;  // share of places with a grain where they gather; places per stem diameter
    bool flakes;              // instead of grains: flat and angular
    Vec colourA, colourB;
    float puddle, puddleFreq;  // share of level ground under liquid; puddles per stem diameter
    Vec liquid;                // what it lets through
    uint32_t seed;
};

struct Tool {  // what is held into the view: tapering rods
    int count;  // 0: nothing
    Vec from[8], to[8];
    float thick[8], thin[8];  // radii at both ends
    float ribs;               // of a hose, per stem diameter
    Surface surface;
};

struct Camera {
    Vec eye, right, up, forward;
    float tanHalf;     // tangent of half the horizontal angle of the whole frame
    float distortion;  // barrel, 0..0.3
    Window window;
};

constexpr int kByProminence = -1, kNoTarget = -2;

struct Lights {
    Vec position[8];
    float power[8];
    int count;
    Vec colour, ambient, sky;  // ambient: fill inside the port; sky: what open air sends back
    float beam;                // exponent of the fall-off away from the axis
    float bounce;              // how much of the twice-bounced light is kept
    float cavity;              // share of light that a wall sends on to other walls
    float radius;              // size of one source
    float ring;                // how far the sources lie from the lens
};

struct Scene {
    int view, family;
    bool calm, dusky;
    int valveCount;  // 0, 1 or 2
    Valve valves[2];
    Seat seats[2];
    Guide guides[2];
    float leanCos[2], leanSin[2];  // how far a valve and its guide lean about x
    Port port;
    Mouth mouth;
    Solid solids[10];
    int solidCount;
    Litter litter;
    Tool tool;
    Camera camera;
    float aspect;  // height by width of the whole frame
    int target;    // valve that the picture is about: 0, 1, kByProminence or kNoTarget
    Lights lights;
    uint32_t seed;
};
