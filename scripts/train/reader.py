"""The second look as a task for train.py: what labels.py, loss.py and validation.py say of one valve in its window."""

import labels as labelling
import loss
import preview
import validation
from net import Net  # noqa: F401
from scenes import VALVE as LOOK  # noqa: F401

WEIGHTS = loss.WEIGHTS
label, terms, total = labelling.label, loss.terms, loss.total
keep, measure, groups = validation.keep, validation.measure, validation.groups


def training_sheet(path, photos, labels):
    photos.image = photos.image[:48]
    labels.region, labels.deposit = labels.region[:48], labels.deposit[:48]
    preview.training_sheet(path, photos, labels)


def validation_sheet(path, net, kept):
    photo, _, truth, _, maps, _ = next(validation.answers(net, kept))
    preview.validation_sheet(path, photo, truth, maps)
