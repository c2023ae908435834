import { type Language, list } from "./language.ts";

export const FRENCH: Language = {
  name: "French",
  dayOrder: "dmy",
  endings: [["é", "ée", "és", "ées"]],
  joins: [],
  says: {
    device: list("appareil, appareils, équipement, équipements, dispositif, matériel"),
    "device name": list("nom de l'appareil, désignation, libellé, nom appareil"),
    "device number": list(
      "numéro d'appareil, n° appareil, n° d'appareil, numéro d'inventaire, n° inventaire, n° d'inventaire, no d'inventaire, inventaire, référence appareil, code appareil",
    ),
    number: list("numéro, n°, num"),
    reference: list("référence, réf"),
    site: list(
      "site, lieu, emplacement, établissement, hôpital, clinique, maternité, localisation, implantation",
    ),
    ward: list(
      "unité, département, pôle, uf, service utilisateur, service de soins, service clinique, unité service, pôle service, service affectataire, service d'affectation, unité de soins",
    ),
    model: list("modèle"),
    make: list("marque, fabricant, constructeur"),
    "serial number": list("numéro de série, n° de série, n° série, no de série, série"),
    commissioned: list(
      "mise en service, mis en service, date de mise en service, en service depuis, mise en route",
    ),
    installed: list("installé, installée, pose"),
    purchased: list(
      "achat, acheté, acquisition, acquis, réception, date de livraison, livré, livraison, reçu",
    ),
    status: list("statut, état, état de fonctionnement, état de marche, état actuel"),
    retired: list(
      "retrait, retiré, réforme, réformé, hors service, mise au rebut, sortie d'inventaire, sortie, date de réforme, date de retrait, mis hors service, mise hors service, retiré du service, sorti du service, sorti du parc, hors service définitif",
    ),
    "uses month": list(
      "utilisations par mois, examens par mois, tests par mois, dépistages par mois, utilisation mensuelle, usage mensuel, nombre de tests par mois, nombre d'examens par mois",
    ),
    uses: list(
      "utilisations, utilisation, examens, dépistages, dépistage, séances, usages, nombre de tests, nombre d'examens, nombre de dépistages",
    ),
    month: list("mois, mensuel, mensuelle"),
    note: list(
      "remarque, remarques, commentaire, commentaires, observation, observations, commentaire libre",
    ),
    finding: list(
      "constat, constatation, anomalie, dommage, défaut, dégât, contrôle visuel, abîmé, endommagé, déchiré, fissuré, détérioré, cassé",
    ),
    last: list("dernier, dernière, derniers, dernières"),
    date: list("jour"),
    electrode: list("électrode, électrodes"),
    "electrode set": list("jeu d'électrodes, kit d'électrodes, set d'électrodes"),
    contact: list("contacts"),
    sensor: list("capteur, capteurs"),
    "ear cushion": list(
      "coussinet, coussinets, coussinet d'oreille, coussinets d'oreille, coussinet auriculaire, coussinets auriculaires, oreillette, oreillettes",
    ),
    cushion: list("coussin, coussins, mousse"),
    "ear coupler": list("coupleur auriculaire, coupleurs auriculaires"),
    coupler: list("coupleur, coupleurs"),
    set: list("jeu"),
    replaced: list(
      "remplacé, remplacée, remplacés, remplacées, remplacement, changé, changée, changement, renouvelé, renouvellement, échangé, échange",
    ),
    done: list("effectué, effectuée, réalisé, réalisée, fait, fait le"),
    calibration: list("étalonnage, étalonné, calibrage, calibré, vérification métrologique"),
    "safety check": list(
      "sécurité électrique, contrôle de sécurité, contrôle de sécurité électrique, test de sécurité électrique",
    ),
    name: list("nom"),
    next: list("prochain, prochaine, suivant, suivante"),
    due: list("échéance, échu, à faire avant"),
    interval: list("intervalle, périodicité, fréquence"),
    order: list("commande, commandé, bon de commande"),
    warranty: list("garantie"),
    price: list("prix, coût, montant"),
    quantity: list("quantité, qté"),
    supplier: list("fournisseur, fournisseurs"),
    lot: list("numéro de lot, n° de lot"),
    expiry: list("péremption, expiration, date limite"),
    by: list("par, responsable, technicien, opérateur, visa, initiales"),
    until: list("jusqu'au, jusqu'à, fin de garantie"),
    planned: list("prévu, prévue, planifié, planifiée, programmé"),
    stock: list("magasin"),
    spare: list("rechange, pièce de rechange, secours"),
    result: list("résultat"),
    year: list("année, années, ans, fabrication, date de fabrication"),
    "in service": list("en service"),
    "in uses": list("en usage, en utilisation"),
    active: list("actif"),
    id: list("identifiant"),
    certificate: list("certificat, attestation, procès verbal"),
    reason: list("motif, raison, cause"),
  },
  empty: list("le, la, les, l, d, de, des, du, en, et, au, aux, sur, pour, un, une, nb"),
  months: [
    list("janvier, janv, jan"),
    list("février, févr, fév, fev"),
    list("mars"),
    list("avril, avr"),
    list("mai"),
    list("juin"),
    list("juillet, juil"),
    list("août"),
    list("septembre, sept"),
    list("octobre, oct"),
    list("novembre, nov"),
    list("décembre, déc"),
  ],
  retired: list(
    "réformé, réformée, mis au rebut, mise au rebut, rebuté, rebutée, retiré du service, retirée du service, sorti d'inventaire, détruit, hors service définitif",
  ),
  serving: list(
    "en service, en fonction, actif, active, opérationnel, fonctionnel, bon, bon état, disponible, en réparation, prêté",
  ),
  yes: ["oui"],
  no: ["non"],
  totals: list("total, somme, sous-total, total général"),
  work: {
    replaced: list(
      "neuf, neuve, neufs, neuves, nouveau, nouvelle, nouveaux, nouvelles, posé, posée, posés, posées",
    ),
    maybe: list("changer, remplacer, renouveler"),
    whole: list("les deux, complet, complète, complets, tous, toutes, paire"),
    left: list("gauche"),
    right: list("droit, droite"),
    partial: list("un, une, seul, seule, seulement, partiel, partielle, moitié"),
    damaged: list(
      "cassé, cassée, cassés, abîmé, abîmée, abîmés, endommagé, endommagée, fissuré, fissurée, fissure, usé, usée, usés, desserré, corrodé, corrodée, corrosion, rouille, résidus, résidu, durci, durcie, déchiré, déchirée, défectueux",
    ),
    inspected: list(
      "vérifié, vérifiée, contrôlé, contrôlée, inspecté, inspectée, inspection, contrôle visuel",
    ),
    clean: list("propre, rien à signaler, ras, conforme"),
    nothing: list(
      "nettoyé, nettoyée, nettoyés, nettoyage, désinfecté, désinfection, chargé, prêté",
    ),
    withdrawn: list("réformé, mis au rebut, mis hors service"),
    later: list(
      "pour, envoyé, envoyée, envoyer, commander, commandé, commandés, besoin, faut, prochain, prochaine, prévu, demandé",
    ),
    no: list("pas, sans, aucun, aucune, non"),
    other: list("câble, batterie, imprimante, écran, chargeur, prise, mallette, papier, logiciel"),
    filler: list("le, la, les, de, des, du, en, et, au, aux, avec"),
  },
  patients: {
    "date of birth": list("date de naissance, né le, née le, ddn"),
    "records of persons": list(
      "patient, patiente, nouveau-né, bébé, mère, nom du patient, nom de l'enfant, nom de la mère, nom du bébé, prénom de l'enfant, prénom du patient",
    ),
    "names of persons": list("prénom, prénoms, nom de famille, nom et prénom, nom de naissance"),
    "medical record numbers": list(
      "ipp, numéro de dossier patient, no dossier patient, dossier patient, dossier médical, id patient, numéro du patient",
    ),
    "identity numbers": list(
      "numéro de sécurité sociale, no de sécurité sociale, sécurité sociale, nir",
    ),
  },
};
