// Vectors and the few scalar helpers everything else stands on. Every function compiles for the CPU and for CUDA.
#pragma once
#include <cmath>
#include <cstdint>

#ifdef __CUDACC__
#define HD __host__ __device__ inline
// One copy in the whole program. With everything inlined the kernel outgrew the GPU's instruction cache: five times slower.
#define HD_ONCE __host__ __device__ __noinline__
#else
#define HD inline
#define HD_ONCE inline
#endif

constexpr float kPi = 3.14159265f;

struct Vec {
    float x, y, z;
};

HD Vec vec(float x, float y, float z) { return Vec{x, y, z}; }
HD Vec grey(float v) { return Vec{v, v, v}; }
HD Vec operator+(Vec a, Vec b) { return vec(a.x + b.x, a.y + b.y, a.z + b.z); }
HD Vec operator-(Vec a, Vec b) { return vec(a.x - b.x, a.y - b.y, a.z - b.z); }
HD Vec operator*(Vec a, Vec b) { return vec(a.x * b.x, a.y * b.y, a.z * b.z); }
HD Vec operator*(Vec a, float s) { return vec(a.x * s, a.y * s, a.z * s); }
HD Vec operator-(Vec a) { return vec(-a.x, -a.y, -a.z); }
HD float dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
HD Vec cross(Vec a, Vec b) { return vec(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x); }
HD float length(Vec a) { return sqrtf(dot(a, a)); }
HD Vec normalize(Vec a) { return a * (1.0f / sqrtf(dot(a, a) + 1e-20f)); }
HD Vec reflect(Vec d, Vec n) { return d - n * (2.0f * dot(d, n)); }
HD float luminance(Vec c) { return 0.2126f * c.x + 0.7152f * c.y + 0.0722f * c.z; }

HD float clampf(float v, float lo, float hi) { return fminf(fmaxf(v, lo), hi); }
HD float lerp(float a, float b, float t) { return a + (b - a) * t; }
HD Vec lerp(Vec a, Vec b, float t) { return a + (b - a) * t; }

HD float smoothstep(float lo, float hi, float v) {
    float t = clampf((v - lo) / (hi - lo), 0.0f, 1.0f);
    return t * t * (3.0f - 2.0f * t);
}

// powf of a negative base is NaN under fast math, and a NaN makes a surface vanish: clamp first.
HD float powPositive(float base, float exponent) { return powf(fmaxf(base, 1e-6f), exponent); }

// Polynomial smooth minimum: blends two distances over a band of width k.
HD float smoothMin(float a, float b, float k) {
    float h = fmaxf(k - fabsf(a - b), 0.0f) / k;
    return fminf(a, b) - h * h * k * 0.25f;
}
HD float smoothMax(float a, float b, float k) { return -smoothMin(-a, -b, k); }

// Two unit vectors square to n and to each other that turn smoothly with n; they are undefined only near (0, 0, -1). A jump
// elsewhere would draw an edge across every smooth surface (frame of Frisvad 2012).
HD void frameAround(Vec n, Vec *a, Vec *b) {
    if (n.z < -0.9999f) {
        *a = vec(0, -1, 0), *b = vec(-1, 0, 0);
        return;
    }
    float s = 1 / (1 + n.z), t = -n.x * n.y * s;
    *a = vec(1 - n.x * n.x * s, t, -n.x);
    *b = vec(t, 1 - n.y * n.y * s, -n.y);
}
