package org.layroom.device.bus;

/** Single wires that are switched or read: lamps, a buzzer, a button. */
public interface Gpio extends AutoCloseable {
  /**
   * Takes a line as an output that is off at first and off again when the program ends.
   *
   * @param line BCM number, 0 to 27
   */
  Output output(int line) throws BusFault;

  /**
   * Takes a line as an input with its pull-up on: a button to ground reads pressed.
   *
   * @param line BCM number, 0 to 27
   */
  Input input(int line) throws BusFault;

  @Override
  void close();

  /** A switched line. */
  interface Output {
    void set(boolean on) throws BusFault;
  }

  /** A read line. */
  interface Input {
    /** Whether the line is pulled to ground now. */
    boolean pressed() throws BusFault;
  }
}
