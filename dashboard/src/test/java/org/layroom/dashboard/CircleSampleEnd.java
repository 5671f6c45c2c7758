package org.layroom.dashboard;

/** Ends a circle of three. */
interface CircleSampleEnd {
  CircleSample next();
}
