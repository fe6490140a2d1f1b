// Plan files: one photo a line, `name key=value ...`; `#` starts a comment. Keys:
//   engine (port and metal), valve (deposit), pose, light: seeds; index, film: wanted; view bore|flange|away|clutter|mouth|hand; second 0|1;
//   method none|blast|hand|whip|soak; cleaning 0..1; growth 0..1; and odometer, group, role, set, which only pass through to the truth.
#pragma once
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>
#include "recipe.h"

struct Planned {
    std::string name;
    std::map<std::string, std::string> notes;  // every key as written
    Recipe recipe;
};

inline int choice(const std::string &value, const std::vector<std::string> &words) {
    for (size_t i = 0; i < words.size(); i++)
        if (words[i] == value) return int(i);
    throw std::runtime_error("unknown word " + value);
}

// The looks that an engine fixes. They must not hang on the line of the plan, or poses of one valve would differ in more than the pose.
inline void applyLooks(uint64_t engine, Recipe *r) {
    const Recipe whole = recipeFromSeed(engine, r->family);
    r->calm = whole.calm, r->dusky = whole.dusky, r->blasted = whole.blasted;
}

inline void applyKey(const std::string &key, const std::string &value, Recipe *r) {
    auto number = [&] { return std::stof(value); };
    auto seed = [&](uint64_t part) { return mix64(std::stoull(value) * 8 + part); };
    if (key == "engine") r->port = seed(1), r->metal = seed(2), applyLooks(std::stoull(value), r);
    else if (key == "valve") r->deposit = seed(3);
    else if (key == "pose") r->pose = seed(4);
    else if (key == "light") r->light = seed(5);
    else if (key == "index") r->index = number();
    else if (key == "film") r->filmShare = number();
    else if (key == "view") r->view = choice(value, {"bore", "flange", "away", "clutter", "mouth", "hand"});
    else if (key == "second") r->second = choice(value, {"0", "1"});
    else if (key == "method") r->method = choice(value, {"none", "blast", "hand", "whip", "soak"});
    else if (key == "cleaning") r->cleaning = number();
    else if (key == "growth") r->growth = number();
    else if (key != "odometer" && key != "group" && key != "role" && key != "set") throw std::runtime_error("unknown key " + key);
}

inline std::vector<Planned> readPlan(const std::string &file, int family) {
    std::ifstream in(file);
    if (!in) throw std::runtime_error("cannot read " + file);
    std::vector<Planned> plan;
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line.substr(0, line.find('#')));
        Planned p;
        if (!(words >> p.name)) continue;
        p.recipe = recipeFromSeed(plan.size(), family);
        for (std::string word; words >> word;) {
            size_t cut = word.find('=');
            if (cut == std::string::npos) throw std::runtime_error("not key=value: " + word);
            p.notes[word.substr(0, cut)] = word.substr(cut + 1);
            applyKey(word.substr(0, cut), word.substr(cut + 1), &p.recipe);
        }
        plan.push_back(p);
    }
    return plan;
}
