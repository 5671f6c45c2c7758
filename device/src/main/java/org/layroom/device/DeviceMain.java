package org.layroom.device;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Properties;
import java.util.concurrent.CountDownLatch;
import org.layroom.device.alarm.AlarmLines;
import org.layroom.device.bus.BusFault;
import org.layroom.device.publishing.BrokerLook;
import org.tinylog.Logger;

/**
 * The device's entry: {@code layroom-device [check | pair | dark | rehearse] [--config FILE]
 * [--simulate]}. Runs until it is stopped. Exit code 2: settings or arguments cannot be used; 1:
 * the device cannot run, {@code check} found a fault, or {@code pair} was refused.
 */
public final class DeviceMain {
  static final String USAGE =
      """
      layroom-device [check | pair | dark | rehearse] [--config FILE] [--simulate]

        check           tell what is wired and what it reads, and whether the broker answers; once,
                        nothing is kept or sent
        pair            ask for the broker's address and the password that "layroom pair-device"
                        shows on the dashboard's machine, try them and keep them for this device
        dark            switch lamps, buzzer and fan off, where their lines are named; the service
                        does so when the device was killed
        rehearse        start and stop once with invented sensors; for the class archive that an
                        installation makes, so that later starts are quicker
        --config FILE   settings, one NAME=VALUE a line; what is left out has its default
        --simulate      invented sensors in an invented room instead of real ones
        --help          show this
      """;

  private static final String LOG_SETTING = "tinylog.configuration";
  private static final String LOG_FILE = "layroom-device-log.properties";

  private DeviceMain() {}

  /** What the command line asks for. */
  private record Arguments(
      Optional<Path> config,
      boolean simulate,
      boolean check,
      boolean pair,
      boolean dark,
      boolean rehearse,
      boolean help) {
    static Arguments of(String[] args) {
      Optional<Path> config = Optional.empty();
      boolean simulate = false;
      boolean check = false;
      boolean pair = false;
      boolean dark = false;
      boolean rehearse = false;
      boolean help = false;
      for (int i = 0; i < args.length; i++) {
        switch (args[i]) {
          case "check" -> check = true;
          case "pair" -> pair = true;
          case "dark" -> dark = true;
          case "rehearse" -> rehearse = true;
          case "--simulate" -> simulate = true;
          case "--help", "-h" -> help = true;
          case "--config" -> {
            if (++i == args.length) {
              throw new IllegalArgumentException("--config needs the name of a file after it");
            }
            config = Optional.of(Path.of(args[i]));
          }
          default -> throw new IllegalArgumentException("unknown argument \"" + args[i] + "\"");
        }
      }
      return new Arguments(config, simulate, check, pair, dark, rehearse, help);
    }
  }

  public static void main(String[] args) {
    if (System.getProperty(LOG_SETTING) == null) {
      System.setProperty(LOG_SETTING, LOG_FILE);
    }
    int exit = run(args);
    if (exit >= 0) {
      System.exit(exit);
    }
  }

  /** The exit code; below zero when the device was stopped from outside. */
  private static int run(String[] args) {
    try {
      Arguments arguments = Arguments.of(args);
      if (arguments.help()) {
        System.out.print(USAGE);
        return 0;
      }
      if (arguments.rehearse()) {
        if (!Rehearsal.run()) {
          Logger.warn("Rehearsed without sending readings; starts will be a little slower");
        }
        return 0;
      }
      if (arguments.dark()) {
        RunningDevice.dark(AlarmLines.of(settings(arguments)));
        return 0;
      }
      if (arguments.pair()) {
        return pair(DeviceConfig.toBePaired(settings(arguments)));
      }
      DeviceConfig config = DeviceConfig.of(settings(arguments));
      if (arguments.check()) {
        WiringCheck check = RunningDevice.check(config, arguments.simulate());
        check.lines().forEach(System.out::println);
        BrokerLook broker = BrokerLook.at(config.broker());
        System.out.println(broker.line());
        return check.well() && broker.well() ? 0 : 1;
      }
      RunningDevice device = RunningDevice.start(config, arguments.simulate());
      Runtime.getRuntime().addShutdownHook(new Thread(device::close, "layroom-device-stop"));
      System.out.println("layroom-device ready " + device.summary());
      new CountDownLatch(1).await();
      return -1;
    } catch (IllegalArgumentException e) {
      System.err.println("layroom-device: " + e.getMessage());
      System.err.println("layroom-device --help lists the arguments");
      return 2;
    } catch (IOException | BusFault e) {
      Logger.debug(e, "The device cannot start");
      System.err.println("layroom-device: " + e.getMessage());
      return 1;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return -1;
    }
  }

  private static int pair(DeviceConfig config) throws IOException {
    BufferedReader in =
        new BufferedReader(new InputStreamReader(System.in, Charset.defaultCharset()));
    return new Pairing(in, System.out).run(config) ? 0 : 1;
  }

  private static Properties settings(Arguments arguments) {
    Properties properties = new Properties();
    if (arguments.config().isPresent()) {
      Path file = arguments.config().get();
      try (Reader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
        properties.load(reader);
      } catch (IOException e) {
        throw new IllegalArgumentException("settings file " + file + " cannot be read", e);
      }
    }
    return properties;
  }
}
