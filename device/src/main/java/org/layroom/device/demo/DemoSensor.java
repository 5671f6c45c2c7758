package org.layroom.device.demo;

/** A sensor of the demo that can be unplugged or disturbed. */
public enum DemoSensor {
  AIR,
  VOC,
  MOLD,
  RESIN
}
