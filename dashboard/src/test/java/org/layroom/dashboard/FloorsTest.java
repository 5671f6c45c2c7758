package org.layroom.dashboard;

import static com.tngtech.archunit.base.DescribedPredicate.describe;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.dashboard.testing.RealTime;

/** The floors of the house: who may know whom, and where clocks, MQTT, SQL and pins live. */
class FloorsTest {
  private static final String PREDICTOR = "org.layroom.predictor..";
  private static final String DEVICE = "org.layroom.device..";
  private static final String DASHBOARD = "org.layroom.dashboard..";

  /**
   * Circles of classes inside one package that stand: a value and its two forms, or a choice and
   * its cases, which nobody reads apart. A new circle is no reason to add a line here.
   */
  private static final Set<String> CIRCLES =
      Set.of(
          "org.layroom.dashboard.job: Job JobRules",
          "org.layroom.dashboard.recording: Header Recording",
          "org.layroom.dashboard.web: AccessFilter LocalOnly",
          "org.layroom.device.outbox: OutboxName SegmentScan",
          "org.layroom.device.telemetry: Acknowledgment AlarmState",
          "org.layroom.predictor.cure: ArrheniusRate ColdHourRate DegreeHourRate RateLaw"
              + " SteepColdRate",
          "org.layroom.predictor.emission: AirChanges VentilatedRoom",
          "org.layroom.predictor.emission: LayupAdvice LayupAir",
          "org.layroom.predictor.exposure: ExposureHistory RollingAverage",
          "org.layroom.predictor.mix: DoseRules MixPlan MixQuestion RoomRules Syringe",
          "org.layroom.predictor.room: NoForecast RoomAnswer RoomForecast",
          "org.layroom.predictor.room: SeriesModel SeriesOutlook",
          "org.layroom.predictor.vapor: SensorFeed SensorFeedBuilder");

  private static JavaClasses house;

  @BeforeAll
  static void readTheHouse() {
    house =
        new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("org.layroom");
    assertTrue(
        house.contain("org.layroom.device.telemetry.Channel")
            && house.contain("org.layroom.dashboard.store.Store"),
        "the floors were read");
  }

  @Test
  void thePredictorKnowsNothingButMathematics() {
    classes()
        .that()
        .resideInAPackage(PREDICTOR)
        .should()
        .onlyDependOnClassesThat()
        .resideInAnyPackage(PREDICTOR, "java..", "org.hipparchus..", "org.jspecify..")
        .allowEmptyShould(true)
        .check(house);
  }

  @Test
  void thePredictorDoesNoInputOrOutputAndHasNoThreads() {
    noClasses()
        .that()
        .resideInAPackage(PREDICTOR)
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(
            "java.io..", "java.net..", "java.nio.file..", "java.sql..", "java.util.concurrent..")
        .orShould()
        .dependOnClassesThat()
        .areAssignableTo(Thread.class)
        .allowEmptyShould(true)
        .check(house);
  }

  @Test
  void theDeviceKnowsNothingOfTheDashboard() {
    noClasses()
        .that()
        .resideInAPackage(DEVICE)
        .should()
        .dependOnClassesThat()
        .resideInAPackage(DASHBOARD)
        .check(house);
  }

  @Test
  void
      theDashboardKnowsOfTheDeviceOnlyTheContractEncryptionFilesClocksTheWordToSystemdAndTheDemo() {
    DescribedPredicate<JavaClass> otherRooms =
        describe(
            "other rooms of the device",
            target ->
                target.getPackageName().startsWith("org.layroom.device")
                    && !Set.of(
                            "org.layroom.device.telemetry",
                            "org.layroom.device.encryption",
                            "org.layroom.device.files",
                            "org.layroom.device.pace",
                            "org.layroom.device.supervision",
                            "org.layroom.device.demo")
                        .contains(target.getPackageName()));
    noClasses()
        .that()
        .resideInAPackage(DASHBOARD)
        .should()
        .dependOnClassesThat(otherRooms)
        .check(house);
  }

  @ParameterizedTest
  @ValueSource(strings = {"predictor", "device", "dashboard"})
  void noPackagesOfAFloorGoRoundInACircle(String floor) {
    slices()
        .matching("org.layroom." + floor + ".(**)")
        .should()
        .beFreeOfCycles()
        .allowEmptyShould(true)
        .check(house);
  }

  @Test
  void noClassesOfAPackageGoRoundInACircleButThoseThatAreNamed() {
    Set<String> found = ClassCircles.of(house);
    found.removeAll(CIRCLES);
    assertEquals(Set.of(), found);
  }

  @Test
  void theRuleOnCirclesWouldFindOne() {
    JavaClasses guilty =
        new ClassFileImporter()
            .importClasses(CircleSample.class, CircleSampleMiddle.class, CircleSampleEnd.class);
    assertEquals(
        Set.of("org.layroom.dashboard: CircleSample CircleSampleEnd CircleSampleMiddle"),
        ClassCircles.of(guilty));
  }

  @Test
  void pinsAreTouchedInOneRoomOnly() {
    noClasses()
        .that()
        .resideOutsideOfPackage("org.layroom.device.bus.pi4j..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("com.pi4j..")
        .check(house);
  }

  @ParameterizedTest
  @CsvSource({
    "org.eclipse.paho, device",
    "org.eclipse.paho, dashboard",
    "java.sql, device",
    "org.apache.activemq, dashboard",
    "io.undertow, dashboard"
  })
  void aLibraryOfTheOutsideWorldLivesInOnePackageOfAFloor(String library, String floor) {
    Set<String> packages =
        house.stream()
            .filter(one -> one.getPackageName().startsWith("org.layroom." + floor))
            .filter(
                one ->
                    one.getDirectDependenciesFromSelf().stream()
                        .anyMatch(
                            dependency ->
                                dependency.getTargetClass().getPackageName().startsWith(library)))
            .map(JavaClass::getPackageName)
            .collect(Collectors.toCollection(TreeSet::new));
    assertTrue(packages.size() <= 1, library + " on floor " + floor + " is in " + packages);
  }

  /** The store's own room, and the one that reads its damaged files page by page. */
  @ParameterizedTest
  @ValueSource(strings = {"java.sql", "org.sqlite"})
  void sqlIsSpokenInTwoRoomsOfTheDashboard(String library) {
    noClasses()
        .that()
        .resideInAPackage(DASHBOARD)
        .and()
        .resideOutsideOfPackages(
            "org.layroom.dashboard.store.sqlite", "org.layroom.dashboard.store.salvage")
        .should()
        .dependOnClassesThat()
        .resideInAPackage(library + "..")
        .check(house);
  }

  /** The store moves whole databases, and syncs them by itself. */
  @Test
  void filesAreReplacedInOneRoomOnly() {
    Set<String> found =
        house.stream()
            .filter(
                one ->
                    !Set.of("org.layroom.device.files", "org.layroom.dashboard.store.salvage")
                        .contains(one.getPackageName()))
            .flatMap(one -> one.getFieldAccessesFromSelf().stream())
            .filter(
                access ->
                    access.getTargetOwner().getName().endsWith("StandardCopyOption")
                        && access.getName().equals("ATOMIC_MOVE"))
            .map(JavaAccess::getDescription)
            .collect(Collectors.toCollection(TreeSet::new));
    assertEquals(Set.of(), found);
  }

  @Test
  void clocksAreReadAndWaitedForInOneRoomOnly() {
    Set<String> found =
        house.stream()
            .filter(one -> !one.getPackageName().equals("org.layroom.device.pace"))
            .flatMap(one -> one.getAccessesFromSelf().stream())
            .filter(FloorsTest::isAClock)
            .map(JavaAccess::getDescription)
            .collect(Collectors.toCollection(TreeSet::new));
    assertEquals(Set.of(), found);
  }

  @Test
  void theRuleOnClocksWouldFindOne() {
    JavaClasses guilty = new ClassFileImporter().importClasses(RealTime.class);
    assertFalse(
        guilty.stream()
            .flatMap(one -> one.getAccessesFromSelf().stream())
            .filter(FloorsTest::isAClock)
            .toList()
            .isEmpty());
  }

  private static boolean isAClock(JavaAccess<?> access) {
    String owner = access.getTargetOwner().getFullName();
    String name = access.getName();
    return switch (owner) {
      case "java.lang.System" -> name.equals("nanoTime") || name.equals("currentTimeMillis");
      case "java.lang.Thread", "java.util.concurrent.TimeUnit" -> name.equals("sleep");
      case "java.util.concurrent.locks.LockSupport" -> name.startsWith("park");
      case "java.util.concurrent.Executors" -> name.contains("Scheduled");
      case "java.util.Timer",
          "java.util.concurrent.ScheduledThreadPoolExecutor",
          "java.time.Clock" ->
          true;
      case "java.util.Date" -> name.equals("<init>");
      default -> owner.startsWith("java.time.") && name.equals("now");
    };
  }
}
