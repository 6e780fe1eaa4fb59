"""The tables, the engine, and questions put to them."""

from service.records import acts as acts  # its tables belong to the models, whoever asks for those
from service.records import contest_models as contest_models
from service.records import report_models as report_models
from service.records import token_models as token_models
