"""What a chat call may be refused for."""

from service.web.problems import Problem


class ChatNotFound(Problem):
    """There is no such chat, or the token is not its token: the two are answered alike."""

    status, title = 404, "There is no such chat"

    def __init__(self) -> None:
        super().__init__("Check the chat's id and its token, or open a new chat.")


class AlreadySaid(Problem):
    """The client_id, or the opening's token, was used before for something else."""

    status, title = 422, "This was sent before with other content"


class ChatIsFull(Problem):
    """The chat has reached the number of messages it can hold."""

    status, title = 409, "This chat is full"


class TooManyStreams(Problem):
    """As many live streams are open as the service keeps."""

    status, title = 503, "Too many live streams are open"

    def __init__(self) -> None:
        super().__init__("Read the chat instead, and try the stream again later.", headers={"Retry-After": "10"})
