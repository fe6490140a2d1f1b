package main

// cautions stand in the help of every command whose result may lead to work on an engine.
const cautions = `CAUTIONS:
  A grade describes what the photo shows; it does not diagnose a misfire, and it does not replace the maker's service
  information, local rules or a licensed technician. Before soaking or blasting: engine cold, ignition and fuel disabled,
  and the valves of that cylinder fully closed, turned by hand in the normal direction of rotation. Media or solvent past
  an open valve destroys the engine, and the program cannot confirm that a valve is closed. Eye and breathing protection
  for blasting; solvents are flammable; chlorinated cleaners and hot metal make poison gas. Take out every bit of media
  and bristle and count tool pieces before the intake goes back on.`
