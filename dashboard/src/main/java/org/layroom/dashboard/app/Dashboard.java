package org.layroom.dashboard.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.net.ssl.SSLContext;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.HostNames;
import org.layroom.dashboard.access.PageCertificate;
import org.layroom.dashboard.access.device.OwnerOnlyFiles;
import org.layroom.dashboard.announce.Announcer;
import org.layroom.dashboard.answer.AccessAnswers;
import org.layroom.dashboard.answer.AirAnswers;
import org.layroom.dashboard.answer.DeviceAnswers;
import org.layroom.dashboard.answer.MaterialAnswers;
import org.layroom.dashboard.answer.OffsetAnswers;
import org.layroom.dashboard.answer.PlainValues;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.RoomLines;
import org.layroom.dashboard.answer.StoreAnswers;
import org.layroom.dashboard.answer.VerdictPublisher;
import org.layroom.dashboard.answer.job.JobAirEvents;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.dashboard.answer.job.JobPublisher;
import org.layroom.dashboard.answer.job.MeasuredMold;
import org.layroom.dashboard.answer.job.ProtectionAnswers;
import org.layroom.dashboard.backup.Backups;
import org.layroom.dashboard.broker.BrokerFailure;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.forecast.LearnedRooms;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.monitor.Figures;
import org.layroom.dashboard.monitor.Readiness;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.warning.AirWarnings;
import org.layroom.dashboard.web.ListenSettings;
import org.layroom.dashboard.web.WebServer;
import org.layroom.device.pace.Pace;
import org.layroom.predictor.room.RoomForecast;

/** A whole dashboard in this process: core, answers, page; started and stopped in order. */
public final class Dashboard implements AutoCloseable {
  private final DashboardCore core;
  private final WebServer web;
  private final AccessControl door;
  private final AirWarnings air;
  private final Deque<Runnable> closing;

  private Dashboard(
      DashboardCore core,
      WebServer web,
      AccessControl door,
      AirWarnings air,
      Deque<Runnable> closing) {
    this.core = core;
    this.web = web;
    this.door = door;
    this.air = air;
    this.closing = closing;
  }

  /**
   * Starts a dashboard.
   *
   * @param pace the room's time
   * @param transport real time
   * @param paceFactor how much faster than real time the room's clock runs
   */
  public static Dashboard start(
      Settings settings, Pace pace, Pace transport, double paceFactor, boolean demo)
      throws StartFailure {
    MaterialShelf shelf = shelf(settings.materialFolder(), settings.materials());
    List<String> told = new ArrayList<>(shelf.unusable());
    String material = material(settings, shelf, told);
    closeSecrets(settings);
    DashboardCore core = core(settings, pace, transport);
    Deque<Runnable> closing = new ArrayDeque<>();
    closing.push(core::close);
    try {
      LearnedRooms learned =
          LearnedRooms.start(core, transport, settings.outdoorFile(), settings.zone());
      closing.push(learned::close);
      GelTests tests = new GelTests(core.store().events(), pace::now);
      AirWarnings air = AirWarnings.start(core, pace, paceFactor);
      closing.push(air::close);
      AirAnswers airAnswers = new AirAnswers(core, air, pace::now);
      RoomAnswers answers =
          new RoomAnswers(
              core,
              shelf,
              tests,
              airAnswers,
              learned,
              new RoomAnswers.Place(settings.room(), material, settings.zone(), paceFactor, demo));
      if (core.leftOut() > 0) {
        told.add(
            "This dashboard's memory holds "
                + core.mostRooms()
                + " rooms. It does not watch the "
                + core.leftOut()
                + " heard longest ago. Give it more: sudo systemctl edit layroom-dashboard, [Service],"
                + " Environment=LAYROOM_HEAP=512m");
      }
      answers.show(
          new Notices(settings, told, core.logins().unpaired(), core::counts, transport::now)
              ::words);
      MeasuredMold molds = new MeasuredMold(core, learned::mold);
      JobAnswers jobs = new JobAnswers(core, answers, tests, molds, pace::now);
      answers.learnFrom(jobs::outcomes);
      jobs.book().addListener(new JobAirEvents(jobs, air, pace::now));
      air.predictedBy(jobs::predictedPpm);
      airAnswers.freshParts(jobs::freshPart);
      closing.push(
          new OldReadings(core.store(), settings.retention(), jobs.book()::jobs, pace).start()
              ::cancel);
      MaterialAnswers cans = new MaterialAnswers(shelf, tests, pace::now, jobs::canChanged);
      RoomLines lines = new RoomLines(answers, airAnswers);
      closing.push(VerdictPublisher.start(core, answers, lines, pace)::close);
      closing.push(PlainValues.start(core, air::air, pace)::close);
      closing.push(JobPublisher.start(core, answers, jobs, pace)::close);
      AccessControl door = AccessControl.of(settings.data(), transport);
      Outside outside = new Outside(core, answers, jobs, air);
      Announcer announcer = outside.announcer(settings.announce(), pace, transport);
      closing.push(announcer::close);
      Readiness readiness = new Readiness(core, settings.data());
      WebServer web =
          WebServer.start(
              new WebServer.Answering(
                  answers,
                  lines,
                  jobs,
                  new ProtectionAnswers(jobs.book(), air, pace::now),
                  cans,
                  airAnswers,
                  new OffsetAnswers(core, air, pace::now, settings.zone()),
                  store(settings, core, pace),
                  devices(settings, core),
                  new AccessAnswers(door),
                  readiness,
                  new Figures(
                      core,
                      readiness,
                      air::air,
                      room ->
                          learned.latest(room, core.snapshot(room).at()).map(RoomForecast::skill),
                      Version.TEXT),
                  outside.calendar(pace),
                  announcer),
              transport,
              listening(settings));
      closing.push(web::close);
      return new Dashboard(core, web, door, air, closing);
    } catch (IOException | StoreFailure e) {
      closeAll(closing).forEach(e::addSuppressed);
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    } catch (RuntimeException | Error e) {
      closeAll(closing).forEach(e::addSuppressed);
      throw e;
    }
  }

  /** The material of the settings; another one, and a word, where its file cannot be used. */
  private static String material(Settings settings, MaterialShelf shelf, List<String> told)
      throws StartFailure {
    if (shelf.find(settings.material()).isPresent()) {
      return settings.material();
    }
    if (shelf.unusable().isEmpty()) {
      throw new StartFailure(
          "material: unknown \""
              + settings.material()
              + "\"; use one of "
              + String.join(", ", shelf.ids()));
    }
    told.add(
        "The settings name the material "
            + settings.material()
            + ", and no usable file has it. "
            + MaterialShelf.USUAL
            + " takes its place: check the material before you mix.");
    return MaterialShelf.USUAL;
  }

  /** Keys and passwords that the settings name are not for every user of this machine. */
  private static void closeSecrets(Settings settings) throws StartFailure {
    try {
      if (settings.house().certificate().isPresent()) {
        Settings.Certificate page = settings.house().certificate().get();
        OwnerOnlyFiles.secret(page.key().orElse(page.chain()));
        if (page.passwordFile().isPresent()) {
          OwnerOnlyFiles.secret(page.passwordFile().get());
        }
      }
      if (settings.brokerEncryption().isPresent()) {
        OwnerOnlyFiles.secret(settings.brokerEncryption().get().secret().file());
      }
      if (settings.broker().flatMap(Settings.OutsideBroker::passwordFile).isPresent()) {
        OwnerOnlyFiles.secret(settings.broker().get().passwordFile().get());
      }
    } catch (IOException e) {
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    }
  }

  private static DashboardCore core(Settings settings, Pace pace, Pace transport)
      throws StartFailure {
    CoreSettings core =
        settings
            .broker()
            .map(outside -> outside(settings.data(), outside))
            .orElseGet(
                () ->
                    CoreSettings.embedded(
                            settings.data(),
                            settings.embeddedBroker().address(),
                            settings.embeddedBroker().port())
                        .withEncryption(settings.brokerEncryption()));
    try {
      return DashboardCore.start(core, pace, transport);
    } catch (StoreFailure | BrokerFailure e) {
      throw new StartFailure(String.valueOf(e.getMessage()), e);
    }
  }

  private static ListenSettings listening(Settings settings) throws IOException {
    Settings.House house = settings.house();
    Optional<SSLContext> tls = Optional.empty();
    if (house.certificate().isPresent()) {
      Settings.Certificate files = house.certificate().get();
      tls = Optional.of(PageCertificate.read(files.chain(), files.key(), files.passwordFile()));
    }
    boolean beyond = settings.http().reachable() || !house.names().isEmpty();
    return new ListenSettings(
        settings.http().address(),
        settings.http().port(),
        tls,
        house.httpsPort(),
        beyond ? HostNames.of(house.names()) : HostNames.loopback());
  }

  private static DeviceAnswers devices(Settings settings, DashboardCore core) {
    Settings.Listen listen = settings.embeddedBroker();
    return new DeviceAnswers(core, listen.reachable(), listen.port() != 0);
  }

  private static StoreAnswers store(Settings settings, DashboardCore core, Pace pace) {
    Backups backups =
        new Backups(
            core.store(),
            settings.data(),
            settings.materials(),
            Map.of(
                "room", settings.room().value(),
                "zone", settings.zone().getId(),
                "material", settings.material()),
            pace::now);
    return new StoreAnswers(core.store(), backups, pace::now);
  }

  private static CoreSettings outside(Path data, Settings.OutsideBroker broker) {
    CoreSettings core = CoreSettings.outside(data, broker.uri());
    CoreSettings believing = broker.caFile().map(core::withAuthority).orElse(core);
    return broker.user().isPresent() && broker.passwordFile().isPresent()
        ? believing.withLogin(broker.user().get(), broker.passwordFile().get())
        : believing;
  }

  /** The shop's own materials are files: in the folder of the settings, else beside the data. */
  private static MaterialShelf shelf(Optional<Path> named, Path usual) throws StartFailure {
    Path folder = named.orElse(usual);
    try {
      if (named.isEmpty()) {
        Files.createDirectories(usual);
      }
      return MaterialShelf.withFolder(folder);
    } catch (IOException e) {
      throw new StartFailure("material.folder: cannot read " + folder, e);
    }
  }

  public DashboardCore core() {
    return core;
  }

  public WebServer web() {
    return web;
  }

  /** Whoever warns of the air. */
  AirWarnings air() {
    return air;
  }

  public AccessControl door() {
    return door;
  }

  /** Closes the newest first, each whatever became of the one before; tells what failed. */
  private static List<RuntimeException> closeAll(Deque<Runnable> closing) {
    List<RuntimeException> failures = new ArrayList<>();
    for (Runnable one : closing) {
      try {
        one.run();
      } catch (RuntimeException e) {
        failures.add(e);
      }
    }
    return failures;
  }

  @Override
  public void close() {
    List<RuntimeException> failures = closeAll(closing);
    if (!failures.isEmpty()) {
      failures.subList(1, failures.size()).forEach(failures.get(0)::addSuppressed);
      throw failures.get(0);
    }
  }
}
