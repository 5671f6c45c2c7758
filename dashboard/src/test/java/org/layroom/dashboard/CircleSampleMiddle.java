package org.layroom.dashboard;

/** Is the middle of a circle of three. */
interface CircleSampleMiddle {
  CircleSampleEnd next();
}
