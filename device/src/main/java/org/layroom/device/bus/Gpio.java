package org.layroom.device.bus;

/** Single wires that are switched or read: lamps, a buzzer, a button, a fan's relay. */
public interface Gpio extends AutoCloseable {
  /**
   * How a part is wired.
   *
   * @param line BCM number, 0 to 27
   * @param activeLow the part is on when its line is low
   */
  record Wire(int line, boolean activeLow) {
    /** A part that is on when its line is high. */
    public static Wire of(int line) {
      return new Wire(line, false);
    }
  }

  /** What becomes of an output when its program ends by itself. */
  enum AtEnd {
    OFF,
    ON,
    /** It is left alone; whether it stays so is the kernel's business, see {@link KernelGpio}. */
    AS_IT_WAS
  }

  /**
   * Takes a line as an output that is switched off when the program ends, unless told otherwise.
   *
   * @param on how it begins
   */
  Output output(Wire wire, boolean on) throws BusFault;

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

    /** What becomes of it at the end, from now on. */
    void atEnd(AtEnd what);
  }

  /** A read line. */
  interface Input {
    /** Whether the line is pulled to ground now. */
    boolean pressed() throws BusFault;

    /** How often it has been pulled to ground since it was taken, however shortly. */
    long presses();
  }
}
