import { type Language, list } from "./language.ts";

export const GERMAN: Language = {
  name: "German",
  dayOrder: "dmy",
  endings: [["t", "te", "ter", "tes", "ten", "tem"]],
  joins: ["", "s", "es", "n", "en", "er"],
  says: {
    device: list("gerät, geraet, apparat, hörscreeninggerät, screeninggerät, anlage"),
    "device name": list("gerätename, gerätebezeichnung, bezeichnung, anlagenbezeichnung"),
    "device number": list(
      "gerätenummer, gerätenr, geräte nr, inventarnummer, inventarnr, inventar nr, anlagennummer, anlagen nr, equipmentnummer, gerätekennung, gerätekennzeichen, inv nr, betriebliche identifikationsnummer, identifikationsnummer",
    ),
    "device id": ["geräte id"],
    number: list("nummer"),
    site: list(
      "standort, ort, klinik, krankenhaus, haus, einrichtung, geburtsklinik, einsatzort, aufstellort, lieferort, betriebliche zuordnung, aufstellungsort",
    ),
    ward: list("station, abteilung, kreißsaal, kreissaal, neonatologie"),
    model: list("modell, typ, gerätetyp, gerätemodell, ausführung, art und typ, art"),
    make: list("hersteller, fabrikat, marke"),
    "serial number": list("seriennummer, seriennr, serien nr, fabriknummer, fabriknr, fabrik nr"),
    commissioned: list(
      "inbetriebnahme, inbetriebnahmedatum, in betrieb seit, inbetrieb seit, in betrieb genommen, erstinbetriebnahme",
    ),
    installed: list(
      "installiert, installation, aufgestellt, eingesetzt, aufgesetzt, montiert, eingebaut, angebracht",
    ),
    purchased: list(
      "kaufdatum, anschaffung, anschaffungsdatum, gekauft, angeschafft, beschafft, beschaffungsdatum, lieferdatum, geliefert, lieferung, kauf, beschaffung",
    ),
    status: list("gerätestatus, betriebszustand, betriebsstatus"),
    condition: list("zustand"),
    retired: list(
      "außerbetriebnahme, ausgemustert, aussonderung, ausgesondert, stillgelegt, stilllegung, ausmusterung, abgang, abgangsdatum",
    ),
    "out service since": list("außer betrieb seit, außer dienst seit"),
    "uses month": list(
      "nutzungen pro monat, untersuchungen pro monat, screenings pro monat, anwendungen pro monat, messungen pro monat, monatliche nutzung",
    ),
    uses: list(
      "nutzung, nutzungen, anwendungen, untersuchungen, screenings, messungen, tests, einsätze, anzahl screenings, anzahl untersuchungen",
    ),
    new: list("neu, neue, neuer, neues, neuen"),
    days: list("tage, tagen"),
    week: list("wochen"),
    month: list("monat, monatlich"),
    note: list(
      "bemerkung, bemerkungen, notiz, notizen, kommentar, kommentare, anmerkung, anmerkungen, hinweis",
    ),
    finding: list(
      "befund, befunde, schaden, mangel, sichtprüfung, beschädigt, defekt, beschädigung, gerissen",
    ),
    last: list("letzte, zuletzt"),
    date: list("datum"),
    electrode: list(
      "elektrode, elektroden, elektrodenclip, elektrodenclips, elektrodenklemme, elektrodenklemmen, klemmelektrode, klemmelektroden",
    ),
    "electrode set": list("elektrodensatz, elektrodenset"),
    "electrode replaced": list("elektrodenwechsel, elektrodentausch, elektrodenaustausch"),
    "electrode set replaced": list("elektrodensatzwechsel"),
    contact: ["kontakt"],
    sensor: list("fühler"),
    "ear cushion": list(
      "ohrpolster, ohrkissen, ohrmuschelpolster, hörerpolster, kopfhörerpolster, ohrmuschel, ohrmuscheln",
    ),
    "ear cushion replaced": list(
      "ohrpolsterwechsel, polsterwechsel, polstertausch, polsteraustausch",
    ),
    cushion: list("polster, kissen"),
    "ear coupler": list("ohrkoppler"),
    coupler: list("koppler"),
    set: list("satz"),
    replaced: list(
      "gewechselt, ausgetauscht, getauscht, ersetzt, erneuert, wechsel, tausch, austausch, wechseldatum, austauschdatum, erneuerung",
    ),
    done: list("durchgeführt, erledigt, erfolgt"),
    calibration: list(
      "kalibrierung, kalibriert, kalibrierdatum, eichung, geeicht, kalibrierungsdatum, kalibrier, justierung, justiert, kal, kalibr, eich",
    ),
    "last calibration": list("letztkalibrierung"),
    "safety check": list(
      "sicherheitsprüfung, sicherheitstechnische kontrolle, stk, messtechnische kontrolle, mtk, elektrische sicherheitsprüfung, elektrische sicherheit, sicherheitstest",
    ),
    name: list("name, benennung"),
    "service since": list("in service seit, im einsatz seit"),
    next: ["nächste"],
    due: list("fällig, fälligkeit, fälligkeitsdatum"),
    interval: list("intervall, frist, prüfintervall, wechselintervall, turnus, zyklus"),
    order: list("bestellung, bestellt, bestelldatum, bestellnummer"),
    warranty: list("garantie, gewährleistung, garantieende, garantie bis"),
    price: list("preis, kosten, anschaffungspreis, kaufpreis, stückpreis"),
    quantity: list("menge, anzahl, stückzahl, anz"),
    supplier: list("lieferant, händler"),
    lot: list("charge, chargennummer, losnummer"),
    expiry: list("verfallsdatum, verfall, ablaufdatum, haltbar, haltbarkeit"),
    by: list("von, durch, bearbeiter, prüfer, techniker, kürzel"),
    "valid until": list("gültig bis"),
    life: list("lebensdauer, standzeit, nutzungsdauer"),
    until: list("bis"),
    planned: list("geplant, planung, soll, vorgesehen"),
    stock: list("lager, bestand, lagerbestand"),
    spare: list("ersatz, ersatzteil, reserve"),
    result: list("ergebnis"),
    year: list("jahr, jahre, baujahr, herstellungsjahr, herstelljahr"),
    "in service": list("in betrieb, im betrieb, im einsatz"),
    "in uses": list("in benutzung, in gebrauch"),
    active: list("aktiv"),
    certificate: list("zertifikat, kalibrierschein, prüfprotokoll, protokoll, schein"),
    reason: list("grund"),
  },
  empty: list("der, die, das, des, dem, den, und, pro, je, für, am, im, in, zum, zur, seit"),
  months: [
    list("januar, jan, jänner, jän"),
    list("februar, feb"),
    list("märz, mär, mrz, maerz"),
    list("april, apr"),
    list("mai"),
    list("juni, jun"),
    list("juli, jul"),
    list("august, aug"),
    list("september, sep, sept"),
    list("oktober, okt"),
    list("november, nov"),
    list("dezember, dez"),
  ],
  retired: list("ausgemustert, ausgesondert, verschrottet, entsorgt, stillgelegt"),
  serving: list(
    "in betrieb, im einsatz, in benutzung, aktiv, in gebrauch, funktionsfähig, in ordnung, i.o., in reparatur, verliehen",
  ),
  yes: ["ja"],
  no: ["nein"],
  totals: list("summe, gesamt, gesamtsumme, zwischensumme, insgesamt, Anzahl Geräte, Anzahl"),
  work: {
    replaced: list("eingesetzt, aufgesetzt, montiert"),
    new: list("neu, neue, neuer, neues, neuen"),
    maybe: list("wechseln, tauschen, austauschen, ersetzen, erneuern, auswechseln"),
    whole: list(
      "beide, beiden, beidseitig, beidseits, komplett, kompletter, kompletten, komplettes, vollständig, vollständiger, alle, paar",
    ),
    left: list("links, linke, linker, linkes, linken"),
    right: list("rechts, rechte, rechter, rechtes, rechten"),
    partial: list("eine, einer, einen, einzelne, einzeln, teilweise, nur, hälfte"),
    damaged: list(
      "kaputt, gebrochen, riss, risse, rissig, eingerissen, verschlissen, verschleiß, abgenutzt, lose, locker, undicht, verhärtet, hart, korrodiert, korrosion, rost, rückstände, rückstand, defekt, beschädigt, gerissen, vergilbt, verfärbt, verfärbung, verformt, haarriss, haarrisse, riecht, klebt nicht, haftet nicht, klebrig, klebrige, brüchig, brüchige, spröde, porös, ausgetrocknet, fleckig",
    ),
    inspected: list(
      "geprüft, kontrolliert, inspiziert, sichtkontrolle, sichtprüfung, überprüft, inspektion",
    ),
    clean: list("sauber, in ordnung, io, ohne befund, unauffällig"),
    nothing: list(
      "gereinigt, desinfiziert, abgewischt, gewischt, reinigung, desinfektion, geladen, aufgeladen, verliehen",
    ),
    withdrawn: list(
      "ausgemustert, ausgesondert, verschrottet, entsorgt, stillgelegt, außer betrieb genommen",
    ),
    later: list(
      "zu, zum, zur, für, muss, müssen, soll, sollte, bitte, geschickt, eingeschickt, eingesandt, versandt, gesendet, bestellen, bestellt, nötig, notwendig, demnächst, bald, fällig, geplant",
    ),
    no: list("kein, keine, keinen, keinerlei, nicht, ohne"),
    off: list(
      "storniert, abgesagt, verschoben, aufgeschoben, vertagt, abgebrochen, ausgefallen, entfallen",
    ),
    lead: list("kabel, leitung, leitungen, litze, litzen"),
    other: list(
      "akku, batterie, drucker, netzteil, display, bildschirm, software, stecker, koffer, papier",
    ),
    filler: list("der, die, das, den, dem, und, mit, am, im, wurde, wurden, heute"),
  },
  patients: {
    "date of birth": list("geburtsdatum, geb datum, geburtstag, geboren am"),
    "records of persons": list(
      "patient, patientin, patienten, säugling, neugeborenes, mutter, patientenname, name des kindes, name der mutter, name des patienten, name der patientin, name des säuglings",
    ),
    "names of persons": list("familienname, vorname, nachname, vor und nachname"),
    "medical record numbers": list(
      "patientennummer, patientennr, patienten nr, patienten id, fallnummer, fall nr, krankenaktennummer",
    ),
    "identity numbers": list(
      "versichertennummer, versichertennr, krankenversicherungsnummer, sozialversicherungsnummer",
    ),
  },
};
