package org.layroom.dashboard;

/** Begins a circle of three, for the test of the rule. */
interface CircleSample {
  CircleSampleMiddle next();
}
