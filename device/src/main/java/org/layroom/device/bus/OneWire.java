package org.layroom.device.bus;

import java.util.List;

/** The 1-wire thermometers as the Linux kernel's {@code w1_therm} shows them. */
public interface OneWire {
  /** The names of the thermometers found, such as {@code 28-0316a279f1ff}, in order. */
  List<String> ids() throws BusFault;

  /**
   * Has all thermometers convert at once where the kernel can, so that each {@link #slaveText} that
   * follows waits for none; takes up to 0.75 s, and does nothing where it cannot.
   */
  default void convertAll() {}

  /** The two lines of a thermometer's {@code w1_slave} file. Reading takes up to 0.75 s. */
  String slaveText(String id) throws BusFault;
}
