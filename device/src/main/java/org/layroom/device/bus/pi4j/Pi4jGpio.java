package org.layroom.device.bus.pi4j;

import com.pi4j.context.Context;
import com.pi4j.event.ShutdownEvent;
import com.pi4j.event.ShutdownListener;
import com.pi4j.exception.Pi4JException;
import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import org.layroom.device.bus.BusFault;
import org.layroom.device.bus.Gpio;
import org.tinylog.Logger;

/**
 * GPIO lines through the kernel's character device. What becomes of an output at the end is done
 * before Pi4J gives the lines back, whoever shuts it down: it has a shutdown hook of its own.
 */
final class Pi4jGpio implements Gpio {
  private static final String OUTPUT_PROVIDER = "gpiod-digital-output";
  private static final String INPUT_PROVIDER = "gpiod-digital-input";

  private final Context context;
  private final List<Line> outputs = new CopyOnWriteArrayList<>();

  Pi4jGpio(Context context) {
    this.context = context;
    context.addListener(
        new ShutdownListener() {
          @Override
          public void beforeShutdown(ShutdownEvent event) {
            outputs.forEach(Line::end);
          }

          @Override
          public void onShutdown(ShutdownEvent event) {}
        });
  }

  @Override
  public Output output(Wire wire, boolean on) throws BusFault {
    try {
      DigitalOutputProvider provider = context.provider(OUTPUT_PROVIDER);
      DigitalOutput output =
          provider.create(
              DigitalOutput.newConfigBuilder(context)
                  .id("gpio-out-" + wire.line())
                  .address(wire.line())
                  .initial(level(wire, on))
                  .build());
      Line line = new Line(output, wire);
      outputs.add(line);
      return line;
    } catch (Pi4JException | IllegalStateException e) {
      throw fault(wire.line(), e);
    }
  }

  private static DigitalState level(Wire wire, boolean on) {
    return on == wire.activeLow() ? DigitalState.LOW : DigitalState.HIGH;
  }

  private static final class Line implements Output {
    private final DigitalOutput output;
    private final Wire wire;
    private volatile AtEnd atEnd = AtEnd.OFF;

    Line(DigitalOutput output, Wire wire) {
      this.output = output;
      this.wire = wire;
    }

    @Override
    public void set(boolean on) throws BusFault {
      try {
        output.state(level(wire, on));
      } catch (RuntimeException e) {
        throw fault(wire.line(), e);
      }
    }

    @Override
    public void atEnd(AtEnd what) {
      atEnd = what;
    }

    void end() {
      try {
        if (atEnd != AtEnd.AS_IT_WAS) {
          set(atEnd == AtEnd.ON);
        }
      } catch (BusFault e) {
        Logger.warn("At the end: {}", e.reason());
      }
    }
  }

  @Override
  public Input input(int line) throws BusFault {
    try {
      DigitalInputProvider provider = context.provider(INPUT_PROVIDER);
      DigitalInput input =
          provider.create(
              DigitalInput.newConfigBuilder(context)
                  .id("gpio-in-" + line)
                  .address(line)
                  .pull(PullResistance.PULL_UP)
                  .build());
      AtomicLong presses = new AtomicLong();
      input.addListener(
          change -> {
            if (change.state() == DigitalState.LOW) {
              presses.incrementAndGet();
            }
          });
      return new Button(input, line, presses);
    } catch (Pi4JException | IllegalStateException e) {
      throw fault(line, e);
    }
  }

  /** Presses are counted by the kernel's edge events, so that none is too short. */
  private record Button(DigitalInput input, int line, AtomicLong counted) implements Input {
    @Override
    public boolean pressed() throws BusFault {
      try {
        return input.state() == DigitalState.LOW;
      } catch (RuntimeException e) {
        throw fault(line, e);
      }
    }

    @Override
    public long presses() {
      return counted.get();
    }
  }

  /** The lines are given back when the context is shut down. */
  @Override
  public void close() {}

  private static BusFault fault(int line, Exception e) {
    return new BusFault("GPIO line " + line + " cannot be used: " + e.getMessage(), e);
  }
}
