package org.layroom.device.startup;

import java.io.BufferedReader;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.io.Reader;
import java.net.URI;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Properties;
import java.util.concurrent.CountDownLatch;
import org.layroom.device.alarm.AlarmLines;
import org.layroom.device.bus.BusFault;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.publishing.BrokerCheck;
import org.tinylog.Logger;

/**
 * The device's entry: {@code layroom-device [check [--lamps] | pair [--here] | dark | rehearse]
 * [--config FILE] [--simulate]}. Runs until it is stopped. Exit code 2: settings or arguments
 * cannot be used; 1: the device cannot run, {@code check} found a fault, or {@code pair} was
 * refused.
 */
public final class DeviceMain {
  public static final String USAGE =
      """
      layroom-device [check [--lamps] | pair [--here] | dark | rehearse] [--config FILE]
                     [--simulate]

        check           list the sensors found and their readings, and check the broker; once,
                        nothing is stored or sent
        check --lamps   switch lamps, buzzer and fan on, one after another
        pair            enter the broker's address and the password that "layroom pair-device"
                        shows on the dashboard's machine, test them and save them
        pair --here     get the password from the dashboard on this machine
        dark            switch off lamps and buzzer where their lines are set, and the fan as
                        fan.when-stopped says; the service runs this after the device was killed
        rehearse        start and stop once with simulated sensors; an installation uses it to make
                        the class archive, so that later starts are faster
        --config FILE   settings file, one NAME=VALUE per line; the rest has defaults
        --page URL      with pair --here: the address of that dashboard's page, if it is not
                        http://localhost:8080
        --simulate      simulated sensors in a simulated room instead of real ones
        --help          show this
      """;

  private static final URI USUAL_PAGE = URI.create("http://localhost:8080");
  private static final String LOG_SETTING = "tinylog.configuration";
  private static final String LOG_FILE = "layroom-device-log.properties";

  private DeviceMain() {}

  /** What the command line asks for. */
  private record Arguments(
      Optional<Path> config,
      boolean simulate,
      boolean check,
      boolean lamps,
      boolean pair,
      boolean here,
      Optional<URI> page,
      boolean dark,
      boolean rehearse,
      boolean help) {
    static Arguments of(String[] args) {
      Optional<Path> config = Optional.empty();
      boolean simulate = false;
      boolean check = false;
      boolean lamps = false;
      boolean pair = false;
      boolean here = false;
      Optional<URI> page = Optional.empty();
      boolean dark = false;
      boolean rehearse = false;
      boolean help = false;
      for (int i = 0; i < args.length; i++) {
        switch (args[i]) {
          case "check" -> check = true;
          case "--lamps" -> lamps = true;
          case "pair" -> pair = true;
          case "--here" -> here = true;
          case "dark" -> dark = true;
          case "rehearse" -> rehearse = true;
          case "--simulate" -> simulate = true;
          case "--help", "-h" -> help = true;
          case "--page" -> {
            if (++i == args.length) {
              throw new IllegalArgumentException("--page needs an address");
            }
            page = Optional.of(URI.create(args[i]));
          }
          case "--config" -> {
            if (++i == args.length) {
              throw new IllegalArgumentException("--config needs a file name");
            }
            config = Optional.of(Path.of(args[i]));
          }
          default -> throw new IllegalArgumentException("unknown argument \"" + args[i] + "\"");
        }
      }
      if (lamps && (!check || simulate)) {
        throw new IllegalArgumentException(
            "--lamps goes with check, and not with --simulate: simulated lamps show nothing");
      }
      if ((here && !pair) || (page.isPresent() && !here)) {
        throw new IllegalArgumentException("--here goes with pair, and --page with pair --here");
      }
      return new Arguments(config, simulate, check, lamps, pair, here, page, dark, rehearse, help);
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
          Logger.warn("The rehearsal could not send readings; starts will be a little slower");
        }
        return 0;
      }
      if (arguments.dark()) {
        Properties settings = settings(arguments);
        RunningDevice.dark(AlarmLines.of(settings), DeviceConfig.dataFolder(settings));
        return 0;
      }
      if (arguments.pair()) {
        return pair(arguments, DeviceConfig.toBePaired(settings(arguments)));
      }
      DeviceConfig config = DeviceConfig.of(settings(arguments));
      if (arguments.lamps()) {
        return RunningDevice.testLamps(config, out()::println) ? 0 : 1;
      }
      if (arguments.check()) {
        WiringCheck check = RunningDevice.check(config, arguments.simulate());
        check.lines().forEach(out()::println);
        BrokerCheck broker = BrokerCheck.at(config.broker());
        out().println(broker.line());
        return check.well() && broker.well() ? 0 : 1;
      }
      RunningDevice device = RunningDevice.start(config, arguments.simulate());
      Runtime.getRuntime().addShutdownHook(new Thread(device::close, "layroom-device-stop"));
      System.out.println("layroom-device ready " + device.summary());
      new CountDownLatch(1).await();
      return -1;
    } catch (IllegalArgumentException e) {
      System.err.println("layroom-device: " + e.getMessage());
      System.err.println("Run layroom-device --help for the options");
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

  /** Degree signs come out right also on a Pi that was set up without a locale. */
  private static PrintStream out() {
    return new PrintStream(new FileOutputStream(FileDescriptor.out), true, StandardCharsets.UTF_8);
  }

  private static int pair(Arguments arguments, DeviceConfig config) throws IOException {
    if (arguments.here()) {
      return new PairingHere(arguments.page().orElse(USUAL_PAGE), System.out).run(config) ? 0 : 1;
    }
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
